import { describe, expect, it } from 'vitest';
import type { SubsetDetail } from '../../api/index.ts';
import { tableOf } from './results-table.ts';

const piece = {
  place: 1,
  photo: 'p',
  particle: {
    id: 'a1',
    number: 7,
    centroid_px: [12.34, 56.78],
    feret_max_um: 123.456,
    shape: 'fragment',
    colour: 'blue',
  },
} as unknown as SubsetDetail['pieces'][number];
const named = (name: string) => new Map([['p', { name }]]);

describe('the table for the other laboratory', () => {
  it('holds one line a piece, with the column that comes back filled', () => {
    expect(tableOf([piece], named('S1.jpg')).split('\r\n')).toEqual([
      'place,particle,photo,number,x_px,y_px,feret_max_um,shape,colour,material',
      '1,a1,S1.jpg,7,12.3,56.8,123.5,fragment,blue,',
      '',
    ]);
  });

  it('runs nothing in a spreadsheet, whatever a photograph is called', () => {
    const name = '=HYPERLINK("http://evil.example","S1").png';
    expect(tableOf([piece], named(name)).split('\r\n')[1]).toBe(
      `1,a1,"'=HYPERLINK(""http://evil.example"",""S1"").png",7,12.3,56.8,123.5,fragment,blue,`,
    );
  });
});
