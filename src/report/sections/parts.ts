import type { BandedNet } from '../../science/counting/index.ts';
import type { Outcome } from '../../units/index.ts';
import { bandName, figure, kindName, type PartNet, partNets, percent, unseenWords } from '../charts/index.ts';
import type { ReportBehind, ReportFacts } from '../facts.ts';
import { type Block, heading, paragraph, type Section } from '../tree.ts';
import { inWords, sentence, span } from '../words.ts';

const UNIT = 'particles per gram, net of background';

/** The pieces of the product by kind and by size band, the background of the same kind taken off and never cut at nought. */
export function partsSection({ behind, study }: ReportFacts): Section | null {
  if (behind === null) return null;
  const { confidence } = study.question.decision;
  return {
    id: 'parts',
    title: 'By kind and by size',
    lead: `The same pieces sorted; the parts add up to the whole. Bars are ${percent(confidence)} intervals that hold runs to scatter no more than Poisson: the claim's own, which does not, is wider. Kinds of fewer than five pieces are put together with their nearest kin. A net below nought stands as it is: the controls hold more there. Fay, Proschan & Brittain 2015, Biometrics 71:146. Deceives when one part is picked for being high.`,
    blocks: [...kindBlocks(behind, confidence), ...sizeBlocks(behind.sizes, confidence)],
  };
}

function kindBlocks({ categories }: ReportBehind, confidence: number): Block[] {
  if (!categories.ok) return [heading('By kind of piece'), paragraph(sentence(categories.refusal.message))];
  const { rows, total, scheme } = categories.value;
  const line = (row: (typeof rows)[number] | typeof total, label: string, whole: boolean): PartNet => ({
    label,
    counts: { specimens: row.specimens, controls: row.controls },
    because: null,
    value: row.perGram.value,
    lower: row.perGram.lower,
    upper: row.perGram.upper,
    total: whole,
  });
  const lines = [...rows.map((row) => line(row, kindName(row), false)), line(total, 'All together', true)];
  const below = rows.filter(({ negative }) => negative).map(kindName);
  return [
    heading('By kind of piece'),
    {
      kind: 'chart',
      svg: partNets({
        title: 'Net by kind of piece',
        rows: lines,
        unit: UNIT,
        confidence,
        width: 680,
        name: 'kinds',
      }),
      caption: `Categories of shape × colour × size (bands of ${scheme.name}), with what was counted with the product and on the controls.${below.length > 0 ? ` Below nought: ${inWords(below)}.` : ''}`,
      words: lines.map(partWords).join(' '),
    },
  ];
}

const partWords = (row: PartNet): string =>
  row.counts === null
    ? `${row.label}: ${row.because ?? 'not counted'}.`
    : `${row.label}: ${figure(row.counts.specimens)} with the product, ${figure(row.counts.controls)} on controls, net ${span({ value: row.value!, lower: row.lower!, upper: row.upper! })} per gram.`;

function sizeBlocks(sizes: Outcome<readonly BandedNet[]>, confidence: number): Block[] {
  if (!sizes.ok) return [heading('By size'), paragraph(sentence(sizes.refusal.message))];
  const drawn = sizes.value.some(({ bands }) => bands.some((band) => band.chanceOfFinding !== null));
  const schemes = sizes.value.flatMap(({ scheme, bands, below, above }): Block[] => {
    const outside = below + above;
    const found = bands.filter(({ chanceOfFinding }) => chanceOfFinding !== null);
    const chances = found.map(
      (band) => `${bandName(band.fromUm, band.toUm, false)} ${percent(band.chanceOfFinding!)}`,
    );
    return [
      heading(`By size, bands of ${scheme.name}`),
      {
        kind: 'table',
        caption: `Longest Feret diameter; of fibres the length. ${sentence(scheme.source)} ${percent(confidence)} intervals.`,
        columns: [
          { head: 'size' },
          { head: 'with the product', numeric: true, none: 'not counted' },
          { head: 'on controls', numeric: true, none: 'not counted' },
          { head: 'net per gram' },
        ],
        rows: bands.map((band) => {
          const counted = band.seen.kind === 'counted';
          return [
            bandName(band.fromUm, band.toUm, band.partlyOutOfSight || band.partlyNotAsked),
            counted ? band.specimens : null,
            counted ? band.controls : null,
            band.perGram === null ? unseenWords(band.seen.kind) : span(band.perGram),
          ];
        }),
      },
      ...(outside > 0
        ? [paragraph(`${outside} ${outside === 1 ? 'piece lies' : 'pieces lie'} outside these bands.`)]
        : []),
      ...(chances.length > 0
        ? [
            paragraph(
              `Chance that a piece is found, by known pieces drawn into control photographs: ${chances.join('; ')}.`,
            ),
          ]
        : []),
    ];
  });
  return drawn
    ? schemes
    : [
        ...schemes,
        paragraph('What share of each band is found was not determined with known pieces for these optics.'),
      ];
}
