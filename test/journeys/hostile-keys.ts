import type { Hostile, There } from './hostile-inputs.ts';

const NOBODY = '00000000-0000-7000-8000-000000000000';

/** Every answer that could carry a sealed key away. */
export const sealedKeys = ({ study, round, photo, scorer }: There): Hostile[] =>
  [
    ['the study packed', `/api/studies/${study}/archive`],
    ['the round', `/api/rounds/${round}`],
    ['the evidence', `/api/studies/${study}/evidence`],
    ['where the study stands', `/api/studies/${study}/standing`],
    ['the report', `/api/studies/${study}/report`],
    ['the checklist', `/api/studies/${study}/checklist`],
    ['a photograph’s particles', `/api/photos/${photo}/particles`],
    ['a packet for somebody who does not score', `/api/rounds/${round}/packet?reader=${NOBODY}`],
    ['a packet for a scorer', `/api/rounds/${round}/packet?reader=${scorer}`],
    ['a picture under no code', `/api/rounds/${round}/pictures/ZZZZ`],
  ].map(
    ([what, path]): Hostile => ({
      group: 'sealed keys',
      what: `the key of a sealed round, looked for in: ${what}`,
      method: 'GET',
      path: path!,
      expect: { sealed: true },
    }),
  );
