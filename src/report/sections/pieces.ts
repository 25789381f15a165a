import { figure } from '../charts/index.ts';
import { pieceCounts, type ReportFacts, type ReportPiece, scopeOf } from '../facts.ts';
import { type Block, type PictureOfPiece, paragraph, type Section } from '../tree.ts';
import { inWords, many } from '../words.ts';

const BARS_UM = [5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000];

/** The longest round bar that fills at most 45 % of the picture. */
export const barFor = (widthUm: number): number =>
  [...BARS_UM].reverse().find((bar) => bar <= 0.45 * widthUm) ?? BARS_UM[0]!;

/** Every piece once: counted, dropped, or outside what the question asks; each with how many nobody has looked at. */
function partsOf(facts: ReportFacts, counted: number): readonly string[] {
  const scope = scopeOf(facts);
  const left = facts.pieces.filter((piece) => piece.standing !== 'dropped');
  const outside = left.filter((piece) => !pieceCounts(piece, scope));
  const dropped = facts.pieces.length - left.length;
  const unseen = (of: readonly ReportPiece[]) => {
    const n = of.filter((piece) => piece.standing === 'unmarked').length;
    return n === 0 ? '' : ` (${n} of these looked at by nobody yet)`;
  };
  return [
    `${counted} in the counts${unseen(left.filter((piece) => pieceCounts(piece, scope)))}`,
    ...(dropped > 0 ? [`${dropped} dropped by a person`] : []),
    ...(outside.length > 0
      ? [
          `${outside.length} outside the sizes, shapes or colours of the question, or without a size${unseen(outside)}`,
        ]
      : []),
  ];
}

/** Pieces as pictures with scale bars, and what they are made up of. */
export function piecesSection(facts: ReportFacts): Section {
  const { pieces, pictures } = facts;
  const scope = scopeOf(facts);
  const counted = pieces.filter((piece) => pieceCounts(piece, scope));
  const tally = (of: (piece: (typeof pieces)[number]) => string): string => {
    const sums = new Map<string, number>();
    for (const piece of counted) sums.set(of(piece), (sums.get(of(piece)) ?? 0) + 1);
    return inWords([...sums].sort((a, b) => b[1] - a[1]).map(([name, n]) => `${n} ${name}`));
  };
  const blocks: Block[] = [
    paragraph(
      pieces.length === 0
        ? 'No piece is on record.'
        : `${many(pieces.length, 'piece')} were found or drawn on ${many(facts.photos.length, 'photograph')}: ${inWords(partsOf(facts, counted.length))}.`,
    ),
  ];
  if (counted.length > 0)
    blocks.push(
      paragraph(
        `Of those counted, by shape: ${tally((piece) => piece.shape)}; by colour: ${tally((piece) => piece.colour)}.`,
      ),
    );
  if (pictures.length > 0)
    blocks.push({
      kind: 'pieces',
      pieces: pictures.map(
        ({ piece, image, widthUm }): PictureOfPiece => ({
          image,
          widthUm,
          barUm: barFor(widthUm),
          caption: `${piece.photo.startsWith(piece.run) ? '' : `${piece.run}, `}${piece.photo} no. ${piece.number}: ${piece.colour} ${piece.shape}, ${piece.feretMaxUm === null ? 'no scale' : `${figure(Math.round(piece.feretMaxUm))} µm`}${piece.standing === 'unmarked' ? ', undecided' : ''}`,
        }),
      ),
    });
  const chosen =
    pictures.length < counted.length
      ? ` ${pictures.length} of ${counted.length} counted pieces are shown: the largest of every run.`
      : '';
  return {
    id: 'pieces',
    title: 'Pieces',
    ...(pictures.length > 0 ? { lead: `Cut from the photographs as they are.${chosen}` } : {}),
    blocks,
  };
}
