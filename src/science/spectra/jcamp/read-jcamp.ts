import { done, type Outcome, refused } from '../../../units/index.ts';
import type { RawSpectrum } from '../spectrum.ts';
import { lastPlace, readPairs, readSteppedTable, type TableHeader } from './data-table.ts';
import { type LabelledRecord, labelledRecords } from './labels.ts';

/** Whether text looks like JCAMP-DX: a labelled record near its beginning. */
export const looksLikeJcamp = (text: string): boolean =>
  /^\s*##\s*(TITLE|JCAMP[-_ ]?DX|DATA ?TYPE)\s*=/im.test(text.slice(0, 4000));

/**
 * The spectra of a JCAMP-DX file (4.24 and 5), compound files included, in every packing. Promised and found are held
 * against one another: NPOINTS, FIRSTX, LASTX, DELTAX, FIRSTY, the abscissa of each line, the repeated ordinates.
 * Refuses: `not-jcamp`, `damaged-spectrum` (names the line), `no-spectrum-inside`.
 * Source: McDonald & Wilks 1988, Appl. Spectrosc. 42:151.
 */
export function readJcamp(text: string, name: string): Outcome<RawSpectrum[]> {
  if (!looksLikeJcamp(text)) {
    return refused({
      why: 'not-jcamp',
      message: `${name} is not JCAMP-DX: it does not begin with ##TITLE=. Export the spectrum again, or as two columns.`,
    });
  }
  const found: RawSpectrum[] = [];
  let block = new Map<string, LabelledRecord>();
  let passedOver: string | null = null;
  for (const record of labelledRecords(text)) {
    if (record.label === 'TITLE') block = new Map();
    block.set(record.label, record);
    const kind = /\(\s*X\s*\+\+\s*\(\s*Y/i.test(record.text) ? 'stepped' : 'pairs';
    if (record.label === 'XYDATA' || record.label === 'XYPOINTS') {
      const header = headerOf(block);
      if (!header.ok) return refused({ ...header.refusal, message: `${name}: ${header.refusal.message}` });
      const table =
        kind === 'stepped' ? readSteppedTable(record, header.value) : readPairs(record, header.value);
      if (!table.ok) return refused({ ...table.refusal, message: `${name}: ${table.refusal.message}` });
      found.push({
        title: block.get('TITLE')?.text ?? name,
        x: table.value.x,
        y: table.value.y,
        xUnit: block.get('XUNITS')?.text ?? null,
        yUnit: block.get('YUNITS')?.text ?? null,
        remarks: ['DATATYPE', 'NAMES', 'SAMPLEDESCRIPTION', 'SAMPLINGPROCEDURE'].flatMap(
          (label) => block.get(label)?.text || [],
        ),
      });
    } else if (
      record.label === 'PEAKTABLE' ||
      record.label === 'NTUPLES' ||
      record.label === 'PEAKASSIGNMENTS'
    ) {
      passedOver = record.label;
    }
  }
  if (found.length > 0) return done(found);
  return refused({
    why: 'no-spectrum-inside',
    message:
      passedOver === null
        ? `${name} has no table of ordinates (##XYDATA= or ##XYPOINTS=): export the spectrum with its data.`
        : `${name} holds a ${passedOver === 'NTUPLES' ? 'table of several variables' : 'list of peaks'} and no continuous spectrum: export it as XYDATA.`,
  });
}

function headerOf(block: ReadonlyMap<string, LabelledRecord>): Outcome<TableHeader> {
  const numbers: Record<string, number | null> = {};
  for (const label of ['NPOINTS', 'FIRSTX', 'LASTX', 'DELTAX', 'FIRSTY', 'MAXY', 'XFACTOR', 'YFACTOR']) {
    const record = block.get(label);
    const text = record?.text.trim() ?? '';
    const value = text === '' ? null : Number(text.replace(',', '.'));
    if (value !== null && !Number.isFinite(value)) {
      return refused({
        why: 'damaged-spectrum',
        message: `Line ${record!.line}: ${label} is “${text.slice(0, 30)}”, which is no number.`,
      });
    }
    numbers[label] = value;
  }
  const points = numbers.NPOINTS ?? null;
  if (points !== null && !(Number.isInteger(points) && points >= 1 && points <= 10_000_000)) {
    return refused({
      why: 'damaged-spectrum',
      message: `Line ${block.get('NPOINTS')!.line}: NPOINTS is ${points}, which is no count of points.`,
    });
  }
  return done({
    points,
    firstX: numbers.FIRSTX ?? null,
    lastX: numbers.LASTX ?? null,
    deltaX: numbers.DELTAX ?? null,
    firstY: numbers.FIRSTY ?? null,
    maxY: numbers.MAXY ?? null,
    firstYPlace: lastPlace(block.get('FIRSTY')?.text ?? '0'),
    xFactor: numbers.XFACTOR ?? 1,
    yFactor: numbers.YFACTOR ?? 1,
  });
}
