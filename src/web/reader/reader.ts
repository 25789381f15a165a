/**
 * The reader's part of a report: choose a run, re-class its pieces, see the claim move. Runs inside the report's own file, without
 * network; the counting is the program's own code.
 */
import { type Reclass, type RecountData, recount } from '../../report/index.ts';

const SHAPES = ['fragment', 'fibre', 'film', 'foam', 'bead'] as const;
type Shape = Reclass['shape'];
/** Pieces shown at once for a run. */
const MOST = 300;

function begin(box: HTMLElement, data: RecountData): void {
  const changes = new Map<string, Reclass>();
  const runs = [...new Set(data.pieces.map((piece) => piece.run))];
  const lead = put(
    box,
    'p',
    'Choose a run, change what a piece is or whether it counts, and the claim below is reckoned anew from all runs and controls. Nothing leaves this page.',
  );
  lead.className = 'lead';
  const line = put(box, 'p', '');
  const label = put(line, 'label', 'Run ');
  const select = document.createElement('select');
  for (const run of runs) select.add(new Option(run, run));
  label.append(select);
  const undo = put(line, 'button', 'Put all back') as HTMLButtonElement;
  undo.type = 'button';
  undo.style.marginInlineStart = '1rem';
  const answer = put(box, 'p', '');
  answer.className = 'moved';
  answer.setAttribute('role', 'status');
  const detail = put(box, 'p', '');
  const list = put(box, 'div', '');
  list.className = 'list';

  const show = () => {
    list.replaceChildren();
    const mine = data.pieces.filter((piece) => piece.run === select.value).sort(inOrder);
    for (const piece of mine.slice(0, MOST)) list.append(onePiece(piece, changes.get(piece.id), change));
    if (mine.length > MOST)
      put(list, 'p', `${mine.length - MOST} further pieces of this run are in the particle table.`);
  };
  const change = (id: string, to: Reclass) => {
    const piece = data.pieces.find((one) => one.id === id)!;
    if (piece.shape === to.shape && piece.standing === to.standing) changes.delete(id);
    else changes.set(id, to);
    reckon();
  };
  const reckon = () => {
    answer.textContent = 'Reckoning …';
    setTimeout(() => {
      const { claim, moved } = recount(data, changes);
      const { netPerGram: net } = claim;
      answer.textContent = claim.sentence;
      detail.textContent = [
        net === null ? '' : `Net per gram ${short(net.value)} (${short(net.lower)} to ${short(net.upper)}).`,
        changes.size === 0
          ? 'As reported.'
          : `${changes.size} ${changes.size === 1 ? 'piece' : 'pieces'} classed otherwise: ${moved.map((run) => `${run.run} ${run.from} → ${run.to}`).join(', ') || 'no count moved'}.`,
      ].join(' ');
    }, 20);
  };
  select.addEventListener('change', show);
  undo.addEventListener('click', () => {
    changes.clear();
    show();
    reckon();
  });
  box.hidden = false;
  show();
  reckon();
}

/** What is not dropped first, the largest first. */
function inOrder(a: RecountData['pieces'][number], b: RecountData['pieces'][number]): number {
  const out = (piece: typeof a) => Number(piece.standing === 'dropped');
  return out(a) - out(b) || (b.feretMaxUm ?? 0) - (a.feretMaxUm ?? 0);
}

function onePiece(
  piece: RecountData['pieces'][number],
  changed: Reclass | undefined,
  change: (id: string, to: Reclass) => void,
): HTMLElement {
  const row = document.createElement('div');
  row.className = changed ? 'one changed' : 'one';
  if (piece.image) {
    const image = document.createElement('img');
    image.src = piece.image;
    image.alt = '';
    row.append(image);
  } else put(row, 'span', '').className = 'blank';
  put(
    row,
    'span',
    `${piece.photo} no. ${piece.number}, ${piece.feretMaxUm === null ? 'no size' : `${Math.round(piece.feretMaxUm)}\u00a0µm`}`,
  );
  const now = changed ?? piece;
  const select = document.createElement('select');
  select.setAttribute('aria-label', `What ${piece.photo} no. ${piece.number} is`);
  for (const shape of SHAPES) select.add(new Option(shape, shape));
  select.add(new Option('not a particle', 'none'));
  select.value = now.standing === 'dropped' ? 'none' : now.shape;
  select.addEventListener('change', () => {
    const none = select.value === 'none';
    change(piece.id, {
      shape: none ? piece.shape : (select.value as Shape),
      standing: none ? 'dropped' : piece.standing === 'dropped' ? 'kept' : piece.standing,
    });
    row.className =
      select.value === (piece.standing === 'dropped' ? 'none' : piece.shape) ? 'one' : 'one changed';
  });
  row.append(select);
  return row;
}

function put(into: HTMLElement, name: string, text: string): HTMLElement {
  const made = document.createElement(name);
  made.textContent = text;
  into.append(made);
  return made;
}

const short = (n: number): string => String(Number(n.toPrecision(3)));

const box = document.getElementById('recount');
const kept = document.getElementById('recount-data');
if (box && kept?.textContent) begin(box, JSON.parse(kept.textContent) as RecountData);
