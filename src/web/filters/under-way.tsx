/** Work of minutes on a study's controls: how far it is, in words too, and the way to stop it. */
export function UnderWay({
  progress: { done, of },
  what,
  words,
  stop,
}: {
  progress: { readonly done: number; readonly of: number };
  /** What the bar counts, for those who do not see it. */
  what: string;
  /** How far it is, once it is known of how many. */
  words: string;
  stop: () => void;
}) {
  return (
    <div className="completeness-way" role="status">
      <progress max={Math.max(1, of)} value={done} aria-label={what} />
      <span>{of === 0 ? 'Reading the photographs …' : words}</span>
      <button type="button" className="button quiet" onClick={stop}>
        Stop
      </button>
    </div>
  );
}
