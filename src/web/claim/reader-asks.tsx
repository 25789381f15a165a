import { useQuery } from '@tanstack/react-query';
import { pathTo } from '../app/where.ts';
import { Section } from '../look/parts.tsx';
import { many } from '../look/words.ts';
import { checklistQuery } from '../server/queries.ts';

/** How many of the published reporting items the records fill, the gravest that are missing, and the way to all of them. */
export function ReaderAsks({ study }: { study: string }) {
  const { data } = useQuery(checklistQuery(study));
  if (!data) return null;
  const missing = data.items.filter((item) => item.state === 'missing');
  const blocking = missing.filter((item) => item.severity === 'blocks');
  const asked = data.items.filter((item) => item.state !== 'not-applicable').length;
  return (
    <Section
      title="What a reader will ask for"
      lead={`${asked - missing.length} of ${many(asked, 'item')} of published reporting guidelines are filled by the records.`}
    >
      {blocking.length > 0 ? (
        <ul className="reasons">
          {blocking.slice(0, 4).map((item) => (
            <li key={item.id}>
              <strong>{item.asks}</strong> {item.says}
            </li>
          ))}
        </ul>
      ) : null}
      <p className="section-deeds">
        <a className="button" href={`${pathTo({ page: 'procedure', study, item: null })}#checklist`}>
          All items, with what is missing
        </a>
      </p>
    </Section>
  );
}
