/** The mark of Retentate: a filter disc with its printed squares and the few specks that it kept. */
export function Mark({ size = 40 }: { size?: number }) {
  return (
    <svg viewBox="0 0 48 48" width={size} height={size} aria-hidden="true" focusable="false" className="mark">
      <circle cx="24" cy="24" r="20.5" strokeWidth="3" stroke="currentColor" fill="none" />
      <path
        d="M17.5 6v36M30.5 6v36M6 17.5h36M6 30.5h36"
        strokeWidth="1.4"
        stroke="currentColor"
        opacity=".5"
        fill="none"
      />
      <circle cx="24.6" cy="23.4" r="4.2" fill="currentColor" />
      <circle cx="36" cy="26" r="2.2" fill="currentColor" />
      <path d="M11.5 34.2l5.2-2.6 1.2 2.4-5.2 2.6z" fill="currentColor" />
    </svg>
  );
}
