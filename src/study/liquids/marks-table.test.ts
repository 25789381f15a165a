import { describe, expect, it } from 'vitest';
import { marksFromTable } from './index.ts';

const read = (text: string, delimiter = ',') => {
  const made = marksFromTable(text.split('\n').map((line) => line.split(delimiter)));
  return made.ok ? made.value.map((mark) => [mark.timeS, mark.volumeMl]) : made.refusal.why;
};

describe('a table of marks', () => {
  const twice = [
    [60, 5],
    [90, 10],
  ];
  it.each([
    ['time_s,volume_ml\n60,5\n90,10', ','],
    ['Time (min),Volume [mL]\n1,5\n1.5,10', ','],
    ['V / L;t / s\n0,005;60\n0,010;90', ';'],
    ['s\tmL\n60\t5\n90\t10', '\t'],
    ['elapsed seconds,filtrate mL,note\n60,5,start\n90,10,', ','],
    ['time,volume\n1:00,5 mL\n1:30,10 mL', ','],
    ['time,volume\n60 s,5 mL\n1.5 min,0.01 L', ','],
    ['# run 3\n\ntime_s,volume_ml\n60,5\n\n90,10', ','],
    ['Minutes,Millilitres\n1,5\n1.5,10', ','],
    ['time,volume_ml\n0:01:00,5\n0:01:30,10', ','],
    ['t_min,v_cm3\n1,5\n1.5,10', ','],
  ])('%j is read', (text, delimiter) => {
    expect(read(text, delimiter)).toEqual(twice);
  });

  it.each([
    ['', 'empty-table'],
    ['a,b\n1,2', 'no-column'],
    ['time_s,mass_g\n1,2', 'no-column'],
    ['time,volume_ml\n60,5', 'unit-missing'],
    ['time_s,volume\n60,5', 'unit-missing'],
    ['time_s,volume_ml\nsoon,5', 'not-a-number'],
    ['time_s,volume_ml\n60,', 'empty-cell'],
    ['time_s,volume_ml\n60', 'empty-cell'],
    ['time_s,volume_ml\n60,5 kg', 'wrong-unit'],
    ['time,volume_ml\n14:03:20,5\n14:03:50,10', 'no-start'],
  ])('%j is refused: %s', (text, why) => {
    expect(read(text)).toBe(why);
  });
});
