import { useCallback } from 'react';
import type { FilterJson } from '../../api/index.ts';
import { filterDisc } from '../../report/index.ts';
import { Drawing } from '../look/drawing.tsx';
import { discOf, type Places } from './squares.ts';

/** The filter as a disc with its squares. */
export function Disc({ filter, most, places }: { filter: FilterJson; most: number; places?: Places }) {
  const draw = useCallback(
    (width: number) =>
      filterDisc({
        label: filter.name,
        ...discOf(filter, places),
        size: Math.min(width, most),
        name: `disc-${filter.id}-${most}`,
      }),
    [filter, most, places],
  );
  return <Drawing draw={draw} className="disc" />;
}

export function DiscKey() {
  return (
    <p className="disc-key">
      <span className="key">
        <i className="patch looked" /> looked at
      </span>
      <span className="key">
        <i className="patch photographed" /> photographed, not looked at yet
      </span>
      <span className="key">
        <i className="patch not-looked" /> not looked
      </span>
      <span className="key">
        <i className="patch cannot-be-seen" /> cannot be seen
      </span>
    </p>
  );
}
