import { useEffect, useRef } from 'react';

export type Keys = readonly (readonly [key: string, deed: () => void])[];
type Pressed = Pick<
  globalThis.KeyboardEvent,
  'key' | 'ctrlKey' | 'metaKey' | 'altKey' | 'shiftKey' | 'target' | 'defaultPrevented' | 'preventDefault'
>;

/**
 * Keys of a whole page: a letter without regard to case, `Ctrl+z` also for the command key, `Shift+ArrowLeft` for named keys.
 * Of two with the same name the first holds. Fields where somebody types
 * or chooses keep their keys.
 */
export function useKeys(keys: Keys): void {
  const latest = useRef(keys);
  latest.current = keys;
  useEffect(() => {
    const listen = (event: Pressed) => {
      if (event.defaultPrevented || event.altKey) return;
      if ((event.target as Element).closest?.('input, select, textarea')) return;
      const key = event.key.length === 1 ? event.key.toLowerCase() : event.key;
      const pressed =
        event.ctrlKey || event.metaKey
          ? `Ctrl+${key}`
          : event.shiftKey && event.key.length > 1
            ? `Shift+${key}`
            : key;
      const found = latest.current.find(([name]) => name === pressed);
      if (!found) return;
      event.preventDefault();
      found[1]();
    };
    addEventListener('keydown', listen);
    return () => removeEventListener('keydown', listen);
  }, []);
}
