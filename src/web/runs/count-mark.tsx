import type { CountJson } from '../../api/index.ts';
import { figure } from '../../report/index.ts';

/**
 * A count that cannot be mistaken: a figure, an empty ring with “none seen”, a broken frame with “not looked”, or, where
 * photographs are there and nothing can be told on them, a hatched patch with “cannot be seen”.
 */
export function CountMark({ count, hidden = false }: { count: CountJson; hidden?: boolean }) {
  if (count.state === 'not-looked' && hidden) {
    return <span className="count-mark cannot-be-seen">cannot be seen</span>;
  }
  if (count.state === 'not-looked') return <span className="count-mark not-looked">not looked</span>;
  return (
    <span className={`count-mark ${count.count === 0 ? 'none-seen' : 'counted'}`}>
      {count.count === 0 ? 'none seen' : figure(count.count)}
      {count.undecided > 0 ? <small> {figure(count.undecided)} undecided</small> : null}
    </span>
  );
}
