import { describe, expect, it } from 'vitest';
import { EVIL, facts, withBehind } from '../../test/engines/report-facts.ts';
import { buildReport, csvCell, csvFiles, htmlOf, markdownOf, recount, recountData } from './index.ts';
import { base64OfHex, jsonInHtml } from './render/html.ts';
import { barFor } from './sections/pieces.ts';

describe('the report', () => {
  const report = buildReport(facts());

  it('holds the claim, the runs, controls, filters, pieces, record, methods, checklist, cautions and sources', () => {
    expect(report.sections.map((section) => section.id)).toEqual([
      'claim',
      'question',
      'runs',
      'controls',
      'filters',
      'pieces',
      'evidence',
      'rounds',
      'rests-on',
      'record',
      'methods',
      'rules',
      'checklist',
      'cautions',
      'sources',
    ]);
  });

  it('sorts the pieces by kind and size, weighs them, asks other questions and names the controls before', () => {
    const told = buildReport(withBehind('Small study'));
    expect(told.sections.map((section) => section.id)).toEqual(
      expect.arrayContaining(['parts', 'mass', 'other-questions', 'rests-on']),
    );
    const text = markdownOf(told);
    expect(text).toContain('ISO 24187:2023');
    expect(text).toContain('(EU) 2024/1441');
    expect(text).toMatch(/Fragment, blue, .*: \d+ with the product, \d+ on controls/);
    expect(text).toMatch(/All together: 75 with the product, 15 on controls/);
    expect(text).toMatch(/could not have been seen/);
    expect(text).toMatch(/µg/);
    expect(text).toContain('Not weighed');
    expect(text).toContain('times as much per gram');
    expect(text).toContain('6, 5');
    const nets = csvFiles(withBehind('Small study')).find((file) => file.name === 'kinds.csv')!.text;
    const rows = nets.trim().split('\r\n').slice(1);
    const counted = rows.reduce((sum, row) => sum + Number(row.split(',').at(-7)), 0);
    expect(counted).toBe(75);
  });

  it('leaves a size band that could not be seen empty in its tables', () => {
    const text = csvFiles(withBehind('Small study')).find((file) => file.name === 'sizes.csv')!.text;
    const unseen = text.split('\r\n').find((line) => line.includes('could-not-be-seen'))!;
    expect(unseen.split(',').slice(4, 6)).toEqual(['', '']);
  });

  it('says the claim in the words of the program, and that all is invented', () => {
    const html = htmlOf(report, null);
    expect(html).toContain('Everything in this study is invented');
    expect(markdownOf(report)).toContain('> ');
    expect(markdownOf(report)).toContain('gives on these membranes was not measured');
    const [claim] = report.sections;
    expect(claim!.blocks[0]).toEqual({ kind: 'claim', text: facts().specimens[0]!.claim.sentence });
  });

  it('never prints a run that nobody looked at as nought', () => {
    const html = htmlOf(report, null);
    const row = /<tr><td>reagent-blank-9<\/td>.*?<\/tr>/.exec(html)?.[0] ?? '';
    expect(row).toContain('not looked');
    const runs = csvFiles(facts())
      .find((file) => file.name === 'runs.csv')!
      .text.split('\r\n');
    const head = runs[0]!.split(',');
    const blank = runs.find((line) => line.startsWith('reagent-blank-9'))!.split(',');
    expect(blank[head.indexOf('looked')]).toBe('false');
    expect(blank[head.indexOf('count')]).toBe('');
  });

  it('of nothing at all says so', () => {
    const bare = {
      ...facts(),
      specimens: [],
      runs: [],
      coverage: [],
      procedures: [],
      deviations: [],
      photos: [],
      pieces: [],
      pictures: [],
    };
    const html = htmlOf(buildReport(bare), null);
    expect(html).toContain('Nothing was measured');
    expect(html).toContain('No filter is on record');
    expect(recountData(bare)).toBeNull();
  });
});

describe('hostile names', () => {
  const evil = facts(EVIL);
  const report = buildReport(evil);

  it('stay text behind the claim too', () => {
    expect(htmlOf(buildReport(withBehind(EVIL)), null)).not.toContain('<script>alert');
    for (const { text } of csvFiles(withBehind(EVIL)))
      for (const line of text.split('\r\n')) expect(line).not.toMatch(/(^|,)"?=cmd/);
  });

  it('stay text in HTML, and cannot end a script', () => {
    const html = htmlOf(report, { script: 'console.log("</script>")', data: recountData(evil)! });
    expect(html).not.toContain('<script>alert');
    expect(html).not.toContain('<img src=x');
    expect(html.match(/<\/script>/g)).toHaveLength(2);
    const data = /id="recount-data">(.*?)<\/script>/s.exec(html)![1]!;
    expect(data).not.toContain('<');
    expect(JSON.parse(data)).toEqual(JSON.parse(JSON.stringify(recountData(evil))));
  });

  it('loads nothing: the page forbids all but its own style, pictures and the one script', () => {
    const html = htmlOf(report, null);
    expect(html).toContain('default-src &#39;none&#39;');
    expect(html).not.toContain('script-src');
    expect(html).not.toMatch(/(src|href)="(https?:)?\/\//);
  });

  it('stay text in Markdown', () => {
    const text = markdownOf(report);
    expect(text).not.toContain('<script>');
    expect(text).not.toMatch(/(^|[^\\])\*b\*/m);
  });

  it('are no formulas in CSV', () => {
    for (const { text } of csvFiles(evil))
      for (const cell of text.split(/[\r\n,]+/)) expect(cell).not.toMatch(/^"?[=+@]/);
  });
});

describe('CSV cells', () => {
  it.each([
    ['=1+1', "'=1+1"],
    ['+49', "'+49"],
    ['-2', "'-2"],
    ['@x', "'@x"],
    ['\tx', "'\tx"],
    ['a,b', '"a,b"'],
    ['say "no"', '"say ""no"""'],
    ['two\nlines', '"two\nlines"'],
    ['plain', 'plain'],
    [-2, '-2'],
    [0, '0'],
    [null, ''],
    [true, 'true'],
  ])('%j', (cell, written) => {
    expect(csvCell(cell)).toBe(written);
  });
  it('refuse what is no number', () => {
    expect(() => csvCell(Number.NaN)).toThrow(RangeError);
  });
});

describe('the reader’s recount', () => {
  const data = recountData(facts())!;

  it('with nothing changed gives the report’s own claim', () => {
    const { claim, moved } = recount(data, new Map());
    expect(claim.sentence).toBe(facts().specimens[0]!.claim.sentence);
    expect(moved).toEqual([]);
  });

  it('moves the number when pieces are dropped, and says which run', () => {
    const before = recount(data, new Map()).claim.netPerGram!;
    const dropped = new Map(
      data.pieces
        .filter((one) => one.run === 'specimen-0')
        .map((one) => [one.id, { shape: one.shape, standing: 'dropped' as const }]),
    );
    const { claim, moved } = recount(data, dropped);
    expect(moved).toEqual([{ run: 'specimen-0', from: 14, to: 0 }]);
    expect(claim.netPerGram!.value).toBeLessThan(before.value);
  });

  it('a class in or out of the question’s scope counts or not', () => {
    const fragments = recountData(facts('x', ['fragment']))!;
    const one = fragments.pieces.find((found) => found.shape === 'fragment')!;
    const { moved } = recount(fragments, new Map([[one.id, { shape: 'fibre', standing: 'kept' }]]));
    expect(moved).toEqual([{ run: one.run, from: 14, to: 13 }]);
  });
});

describe('small things', () => {
  // RFC 4648, § 10: test vectors.
  it.each([
    ['', ''],
    ['66', 'Zg=='],
    ['666f', 'Zm8='],
    ['666f6f', 'Zm9v'],
    ['666f6f62', 'Zm9vYg=='],
  ])('base64 of %s', (hex, base64) => {
    expect(base64OfHex(hex)).toBe(base64);
  });
  it('JSON keeps its meaning inside a page', () => {
    const odd = { text: '</script>&\u2028' };
    expect(jsonInHtml(odd)).not.toMatch(/[<>&\u2028]/);
    expect(JSON.parse(jsonInHtml(odd))).toEqual(odd);
  });
  it.each([
    [300, 100],
    [45, 20],
    [5000, 2000],
    [3, 5],
  ])('a picture of %d µm has a bar of %d µm', (width, bar) => {
    expect(barFor(width)).toBe(bar);
  });
});
