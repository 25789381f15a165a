import { type MouseEvent, useEffect, useMemo, useRef, useState } from 'react';
import { go } from '../app/where.ts';

/**
 * A chart of the report room on the page: drawn anew for the width it gets, so that its type keeps its size.
 * Links inside it go to places of the application without a reload.
 */
export function Drawing({ draw, className = '' }: { draw: (width: number) => string; className?: string }) {
  const frame = useRef<HTMLDivElement>(null);
  const [width, setWidth] = useState(0);
  useEffect(() => {
    const element = frame.current!;
    const measure = () => setWidth(Math.floor(element.clientWidth));
    measure();
    const watch = new ResizeObserver(measure);
    watch.observe(element);
    return () => watch.disconnect();
  }, []);
  const svg = useMemo(() => (width >= 40 ? draw(Math.max(200, width)) : ''), [draw, width]);
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions lint/a11y/useKeyWithClickEvents: the links inside are the interactive elements; Enter on them clicks.
    <div
      ref={frame}
      className={`drawing ${className}`}
      onClick={followInside}
      // biome-ignore lint/security/noDangerouslySetInnerHtml: our own chart functions, which escape every name.
      dangerouslySetInnerHTML={{ __html: svg }}
    />
  );
}

/** Follows a link of ours without loading the page anew; leaves every other click alone. */
export function followInside(event: MouseEvent<HTMLElement>): void {
  if (event.defaultPrevented || event.button !== 0 || event.metaKey || event.ctrlKey || event.shiftKey)
    return;
  const anchor = (event.target as Element).closest('a');
  const href = anchor?.getAttribute('href');
  if (!href?.startsWith('/') || anchor?.getAttribute('target') || href.startsWith('/api/')) return;
  event.preventDefault();
  go(href);
}
