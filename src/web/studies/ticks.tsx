/** Several of a few, each with its word. */
export function Ticks<T extends string>({
  legend,
  all,
  chosen,
  set,
}: {
  legend: string;
  all: readonly (readonly [value: T, words: string])[];
  chosen: readonly T[];
  set: (chosen: readonly T[]) => void;
}) {
  return (
    <fieldset className="field wide">
      <legend>{legend}</legend>
      <div className="ticks">
        {all.map(([value, words]) => (
          <label key={value}>
            <input
              type="checkbox"
              checked={chosen.includes(value)}
              onChange={() =>
                set(chosen.includes(value) ? chosen.filter((one) => one !== value) : [...chosen, value])
              }
            />
            {words}
          </label>
        ))}
      </div>
    </fieldset>
  );
}
