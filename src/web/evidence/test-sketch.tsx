/** A small drawing of each bench test, so that it is recognised before it is read. */
const SKETCHES: Readonly<Record<string, string>> = {
  'heated-needle':
    'M6 30h36M24 27a5 3.4 0 1 0 .1 0M27 24L41 6M41 6l3 2M33 12c2 -3 0 -4 2 -7M17 22c-2 -2 1 -3 -1 -6',
  'warm-water':
    'M10 34h28l3 -16H7zM12 26h24M17 12c2 -3 -2 -4 0 -7M25 12c2 -3 -2 -4 0 -7M33 12c2 -3 -2 -4 0 -7M20 31a5 2 0 1 0 .1 0',
  'solvent-spot':
    'M6 33h36M24 29c-9 0 -11 4 -11 4h22s-2 -4 -11 -4M24 6c-4 6 -6 8 -6 11a6 6 0 0 0 12 0c0 -3 -2 -5 -6 -11',
  'float-or-sink':
    'M12 5v28a3 3 0 0 0 3 3h18a3 3 0 0 0 3 -3V5M12 13h24M19 11l5 -3 4 4 -5 2zM22 34l4 -3 5 2 -3 3z',
  'crossed-polars': 'M24 4a16 16 0 1 0 .1 0M24 4v32M8 20h32M13 9l22 22M35 9L13 31',
  'lipophilic-dye':
    'M24 20a6 6 0 1 0 .1 0M24 8v4M24 28v4M12 20h4M32 20h4M15.5 11.5l3 3M29.5 25.5l3 3M15.5 28.5l3 -3M29.5 14.5l3 -3',
  'press-or-scratch': 'M6 33h36M14 33c0 -6 4 -8 10 -8s10 2 10 8M24 25V5M21 9l3 -5 3 5',
  magnet: 'M12 6v14a12 12 0 0 0 24 0V6h-8v14a4 4 0 0 1 -8 0V6zM12 12h8M28 12h8',
  spectrum: 'M5 33h38M5 30c4 0 5 -1 7 -1s2 -20 4 -20 2 19 4 19 3 -10 5 -10 2 11 5 11 2 -16 4 -16 2 16 4 16h5',
};

export function TestSketch({ test, size = 48 }: { test: string; size?: number }) {
  return (
    <svg
      viewBox="0 0 48 40"
      width={size}
      height={(size * 40) / 48}
      aria-hidden="true"
      focusable="false"
      className="test-sketch"
    >
      <path
        d={SKETCHES[test] ?? ''}
        fill="none"
        stroke="currentColor"
        strokeWidth="1.7"
        strokeLinecap="round"
        strokeLinejoin="round"
      />
    </svg>
  );
}
