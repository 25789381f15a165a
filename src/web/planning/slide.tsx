import { useId } from 'react';

/** A number set by a slider over likely values; any other can be typed beside it. */
export function Slide({
  label,
  value,
  set,
  stops,
  unit,
  hint,
}: {
  label: string;
  value: number;
  set: (value: number) => void;
  /** Rising values that the slider stops at. */
  stops: readonly number[];
  unit: string;
  hint?: string;
}) {
  const id = useId();
  const nearest = stops.reduce(
    (best, stop, k) => (Math.abs(stop - value) < Math.abs(stops[best]! - value) ? k : best),
    0,
  );
  return (
    <div className="slide">
      <label htmlFor={id}>{label}</label>
      <input
        id={id}
        type="range"
        min={0}
        max={stops.length - 1}
        step={1}
        value={nearest}
        aria-valuetext={`${value} ${unit}`}
        aria-describedby={hint ? `${id}-hint` : undefined}
        onChange={(event) => set(stops[Number(event.currentTarget.value)]!)}
      />
      <span className="slide-value">
        <input
          type="number"
          aria-label={`${label}, typed`}
          inputMode="decimal"
          step="any"
          value={value}
          onChange={(event) => {
            const typed = Number(event.currentTarget.value);
            if (event.currentTarget.value !== '' && Number.isFinite(typed)) set(typed);
          }}
        />
        <span>{unit}</span>
      </span>
      {hint ? (
        <small id={`${id}-hint`} className="field-hint">
          {hint}
        </small>
      ) : null}
    </div>
  );
}
