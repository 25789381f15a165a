import { useSyncExternalStore } from 'react';
import { Icon } from '../look/icons.tsx';

interface Notice {
  readonly id: number;
  readonly words: string;
}
let notices: readonly Notice[] = [];
let sequence = 0;
const listeners = new Set<() => void>();
const set = (next: readonly Notice[]) => {
  notices = next;
  for (const listener of listeners) listener();
};

/** Says something that the person should know and can put away: a mark that was declined, an undo that found nothing. */
export function say(words: string): void {
  sequence += 1;
  set([...notices.slice(-2), { id: sequence, words }]);
}

export function Notices() {
  const shown = useSyncExternalStore(
    (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    () => notices,
  );
  return (
    <div className="notices" role="status" aria-live="polite">
      {shown.map((notice) => (
        <div className="notice" key={notice.id}>
          <p>{notice.words}</p>
          <button
            type="button"
            className="button quiet"
            aria-label="Put away"
            onClick={() => set(notices.filter((n) => n.id !== notice.id))}
          >
            <Icon name="drop" size={20} />
          </button>
        </div>
      ))}
    </div>
  );
}
