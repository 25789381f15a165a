import { useQuery } from '@tanstack/react-query';
import { pathTo } from '../app/where.ts';
import { Nothing, PlaceHead } from '../look/parts.tsx';
import { many } from '../look/words.ts';
import { networkQuery } from '../server/queries.ts';

/** A laboratory of one person: says so, and how it becomes a group's. */
export function OnePerson({ title }: { title: string }) {
  const network = useQuery(networkQuery).data;
  return (
    <div className="page">
      <PlaceHead title={title} lead="Who may do what in this laboratory." />
      <Nothing icon="question" title="This laboratory is one person’s">
        <p>
          It has no accounts: whoever sits at this computer works in it, under the name chosen at the top of
          the page.{' '}
          {network === undefined ? null : network.open ? (
            <>
              It is open to the network: {many(network.devices.length, 'paired telephone')} can reach the
              bench of it; see <a href={pathTo({ page: 'network' })}>telephones at the bench</a>.
            </>
          ) : (
            'Nobody else can reach it.'
          )}
        </p>
        <p>
          Several people with logins and roles work on a group’s server: <code>retentate serve</code>. A study
          moves there as an archive, from <em>Take it with you</em> in its claim.
        </p>
      </Nothing>
    </div>
  );
}
