/** One small drawing a kind of step, 48 × 48, so that a procedure can be read across the bench. Always beside its word. */
const BEAKER = 'M12 12h24M14 12v22a4 4 0 0 0 4 4h12a4 4 0 0 0 4-4V12';
const DRAWINGS: Readonly<Record<string, string>> = {
  weigh: 'M24 10v28M14 38h20M10 16h28M10 16l-5 10h10zM38 16l-5 10h10z',
  rinse:
    'M24 6c4 5 6 8 6 11a6 6 0 0 1-12 0c0-3 2-6 6-11M10 30c4-3 6-3 10 0s6 3 10 0 6-3 8-1M10 38c4-3 6-3 10 0s6 3 10 0 6-3 8-1',
  cut: 'M8 38h32M12 32L34 10l4 4-18 18zM34 10l3-3',
  handle:
    'M16 40V22M16 22v-9a3 3 0 0 1 6 0v9M22 20v-4a3 3 0 0 1 6 0v4M28 21a3 3 0 0 1 6 0v9a10 10 0 0 1-10 10h-8',
  wash: `${BEAKER}M18 24c3-2 4-2 6 0s4 2 6 0M19 7v-2M24 7V4M29 7v-2`,
  move: 'M8 14h12M10 14v14a2 2 0 0 0 2 2h4a2 2 0 0 0 2-2V14M28 20h12M30 20v14a2 2 0 0 0 2 2h4a2 2 0 0 0 2-2V20M14 9c8-4 14-2 19 6m0 0l1-5m-1 5l-5-1',
  soak: `${BEAKER}M14 22h20M20 28a4 3 0 1 0 8 0 4 3 0 1 0-8 0`,
  shake: `${BEAKER}M6 18l-2 4 2 4M42 18l2 4-2 4M14 24h20`,
  digest: `${BEAKER}M14 24h20M19 30h.1M25 33h.1M29 29h.1M20 43c0-2 2-2 2-4M26 43c0-2 2-2 2-4`,
  settle: `${BEAKER}M14 18h20M17 35h14M19 32h10M24 21v6m0 0l-3-3m3 3l3-3`,
  decant: 'M10 20l14-10 12 16-10 8zM36 26c3 3 4 8 3 13M33 40h12',
  float: `${BEAKER}M14 22h20M19 19h.1M24 18h.1M29 19h.1M24 34v-7m0 0l-3 3m3-3l3 3`,
  dilute: `${BEAKER}M14 26h20M24 4v12M18 10h12`,
  sieve: 'M8 14h32M12 14l3 12h18l3-12M16 20h16M20 14l1 12M28 14l-1 12M20 32v4M24 32v8M28 32v4',
  filter: 'M10 8h28L27 24v14l-6 4V24zM16 15h16',
  dry: 'M24 16a8 8 0 1 0 0 16 8 8 0 1 0 0-16M24 6v4M24 38v4M6 24h4M38 24h4M11 11l3 3M34 34l3 3M11 37l3-3M34 14l3-3',
  photograph: 'M8 16h7l3-5h12l3 5h7v22H8zM17 26a7 7 0 1 0 14 0 7 7 0 1 0-14 0',
  score: 'M8 24a16 16 0 1 0 32 0 16 16 0 1 0-32 0M17 24l5 5 9-10',
  uncover: 'M10 30h28M13 30c1 5 4 8 11 8s10-3 11-8M18 22v.1M24 16v.1M30 21v.1M24 24v.1M15 12l18-4',
  store: 'M12 14h24v26H12zM16 14V8h16v6M18 26h12M18 32h8',
};
const OWN = 'M24 8l4 11h12l-10 7 4 12-10-8-10 8 4-12L8 19h12z';

export function StepPicture({ kind, size = 44 }: { kind: string; size?: number }) {
  return (
    <svg
      viewBox="0 0 48 48"
      width={size}
      height={size}
      aria-hidden="true"
      focusable="false"
      className="step-picture"
    >
      <path
        d={DRAWINGS[kind] ?? OWN}
        fill="none"
        stroke="currentColor"
        strokeWidth="2.4"
        strokeLinecap="round"
        strokeLinejoin="round"
      />
    </svg>
  );
}
