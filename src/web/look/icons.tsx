/** Our own small set of icons: 24 × 24, one line weight, always beside a word or under a name. */
const PATHS = {
  stands: 'M4 20V9M10 20V4M16 20v-8M21 20H3',
  question:
    'M8.5 9a3.5 3.5 0 1 1 5.3 3c-1.1.7-1.8 1.3-1.8 2.6M12 18.2v.3M3.5 12a8.5 8.5 0 1 0 17 0 8.5 8.5 0 0 0-17 0',
  procedure: 'M9 6h11M9 12h11M9 18h11M4.5 6h.01M4.5 12h.01M4.5 18h.01',
  runs: 'M10 3h4M11 3v6l-5.4 9.4A1.7 1.7 0 0 0 7.1 21h9.8a1.7 1.7 0 0 0 1.5-2.6L13 9V3M8 15h8',
  filters: 'M3.5 12a8.5 8.5 0 1 0 17 0 8.5 8.5 0 0 0-17 0M9 4.2v15.6M15 4.2v15.6M4.2 9h15.6M4.2 15h15.6',
  evidence: 'M4 6h16M4 12h16M4 18h16M8 3.5v17M16 3.5v17',
  claim: 'M5 4h14v13l-4 3.5H5zM8.5 9h7M8.5 13h4.5',
  keep: 'M4.5 12.5l5 5L19.5 7',
  drop: 'M6 6l12 12M18 6L6 18',
  undo: 'M8.5 5L4 9.5 8.5 14M4 9.5h10a5.5 5.5 0 0 1 0 11h-3',
  next: 'M9 5l7 7-7 7',
  previous: 'M15 5l-7 7 7 7',
  photo: 'M4 7.5h3.5L9 5h6l1.5 2.5H20V19H4zM8.7 13a3.3 3.3 0 1 0 6.6 0 3.3 3.3 0 0 0-6.6 0',
  bring: 'M12 16V4M7 8.5L12 4l5 4.5M4 15v5h16v-5',
  warn: 'M12 4L3 19.5h18zM12 10v4.5M12 17.2v.1',
  light:
    'M8 12a4 4 0 1 0 8 0 4 4 0 0 0-8 0M12 2.5v2M12 19.5v2M2.5 12h2M19.5 12h2M5.3 5.3l1.4 1.4M17.3 17.3l1.4 1.4M5.3 18.7l1.4-1.4M17.3 6.7l1.4-1.4',
  dark: 'M20 14.5A8.5 8.5 0 1 1 9.5 4a6.8 6.8 0 0 0 10.5 10.5',
  zoomIn: 'M4 10.5a6.5 6.5 0 1 0 13 0 6.5 6.5 0 0 0-13 0M15.5 15.5L21 21M10.5 7.5v6M7.5 10.5h6',
  zoomOut: 'M4 10.5a6.5 6.5 0 1 0 13 0 6.5 6.5 0 0 0-13 0M15.5 15.5L21 21M7.5 10.5h6',
  whole: 'M4 9V4h5M20 9V4h-5M4 15v5h5M20 15v5h-5',
  part: 'M8.5 12a4 4 0 1 1-.3-1.5M15.5 12a4 4 0 1 0 .3-1.5M12 3v18',
  cut: 'M5 19L19 5M5 19l1-4M5 19l4-1',
  join: 'M9 12a4 4 0 1 0 0 .1M15 12a4 4 0 1 0 8 0 4 4 0 0 0-8 0M9 12h6',
  redraw: 'M4 20l1-4L16 5l3 3L8 19zM13.5 7.5l3 3',
  addPiece: 'M12 8v8M8 12h8M4 9c0-3 3-5 7-5s9 2 9 7-4 9-9 9-7-5-7-11',
  measure: 'M3 15L15 3l6 6L9 21zM7 11l2 2M10 8l3 3M13 5l2 2',
  beside: 'M3 5h8v14H3zM13 5h8v14h-8z',
  back: 'M10 5l-7 7 7 7M3 12h18',
  add: 'M12 5v14M5 12h14',
} as const;

export type IconName = keyof typeof PATHS;

export function Icon({ name, size = 24 }: { name: IconName; size?: number }) {
  return (
    <svg viewBox="0 0 24 24" width={size} height={size} aria-hidden="true" focusable="false" className="icon">
      <path
        d={PATHS[name]}
        fill="none"
        stroke="currentColor"
        strokeWidth="1.8"
        strokeLinecap="round"
        strokeLinejoin="round"
      />
    </svg>
  );
}
