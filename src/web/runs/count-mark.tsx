import type { CountJson } from '../../api/index.ts';
import { figure } from '../../report/index.ts';

/** A count that cannot be mistaken: a figure, an empty ring with “none seen”, or a hatched patch with “not looked”. */
export function CountMark({ count }: { count: CountJson }) {
  if (count.state === 'not-looked') return <span className="count-mark not-looked">not looked</span>;
  return (
    <span className={`count-mark ${count.count === 0 ? 'none-seen' : 'counted'}`}>
      {count.count === 0 ? 'none seen' : figure(count.count)}
      {count.undecided > 0 ? <small> {figure(count.undecided)} undecided</small> : null}
    </span>
  );
}
