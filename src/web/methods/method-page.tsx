import { marked } from 'marked';
import { useEffect, useState } from 'react';
import { go, pathTo } from '../app/where.ts';
import { Icon } from '../look/icons.tsx';
import { Failed, PlaceHead, Waiting } from '../look/parts.tsx';
import { isMethod, METHODS } from './methods.ts';

/** The project's own method pages, word for word as they lie in docs/methods; each is loaded when it is opened. */
const TEXTS = import.meta.glob<string>('../../../docs/methods/*.md', { query: '?raw', import: 'default' });

/** How a number is computed, when it deceives, and its source. */
export function MethodPage({ name }: { name: string | null }) {
  return name === null ? <AllMethods /> : <OneMethod key={name} name={name} />;
}

function AllMethods() {
  return (
    <div className="page">
      <PlaceHead
        title="How it is computed"
        lead="What lies behind each number: what it assumes, when it deceives, and where it comes from."
      />
      <ul className="methods">
        {METHODS.filter(({ name }) => pathOf(name) in TEXTS).map(({ name, title, answers }) => (
          <li key={name}>
            <a href={pathTo({ page: 'method', name })}>{title}</a>
            <span>{answers}</span>
          </li>
        ))}
      </ul>
    </div>
  );
}

const pathOf = (name: string) => `../../../docs/methods/${name}.md`;

function OneMethod({ name }: { name: string }) {
  const [page, setPage] = useState<string | Error | null>(null);
  useEffect(() => {
    const read = isMethod(name) ? TEXTS[pathOf(name)] : undefined;
    if (!read) {
      setPage(new Error(`There is no method page “${name}”.`));
      return;
    }
    read().then((text) => setPage(marked.parse(text, { async: false, gfm: true })), setPage);
  }, [name]);
  if (page === null) return <Waiting what="the page" />;
  if (page instanceof Error)
    return <Failed error={page} again={() => go(pathTo({ page: 'method', name: null }))} />;
  return (
    <div className="page">
      <p className="back">
        <a href={pathTo({ page: 'method', name: null })}>
          <Icon name="back" size={20} /> All methods
        </a>
      </p>
      {/* biome-ignore lint/security/noDangerouslySetInnerHtml: the text is the project's own, built into the page. */}
      <article className="method-text" dangerouslySetInnerHTML={{ __html: inside(page) }} />
    </div>
  );
}

/** Links between method pages stay in the application; links to code and other documents become plain words. */
const inside = (html: string): string =>
  html.replace(/<a href="([^"]*)">([\s\S]*?)<\/a>/g, (whole, to: string, words: string) => {
    if (/^https?:/.test(to)) return whole.replace('<a ', '<a rel="noreferrer" target="_blank" ');
    const method = /(?:^|\/)([\w-]+)\.md(?:#.*)?$/.exec(to)?.[1];
    return method && isMethod(method)
      ? `<a href="${pathTo({ page: 'method', name: method })}">${words}</a>`
      : words;
  });
