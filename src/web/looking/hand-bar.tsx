import { useState } from 'react';
import type { MarkedParticleJson } from '../../api/index.ts';
import { Icon, type IconName } from '../look/icons.tsx';
import { COLOUR_NAMES, SHAPE_NAMES } from './names.ts';
import { isLine, TOOLS, type Tool } from './sketch.ts';
import type { Hand } from './use-hand.ts';

const ICONS: { readonly [T in Tool]: IconName } = {
  cut: 'cut',
  redraw: 'redraw',
  draw: 'addPiece',
  measure: 'measure',
};
const KEYS: { readonly [T in Tool]: string } = { cut: 'C', redraw: 'R', draw: 'N', measure: 'M' };

/** Tools of the hand, beside the photograph. */
export function HandBar({
  hand,
  onPart,
  onJoin,
  many,
  folded,
}: {
  /** On a telephone the tools lie over the photograph: they come when they are asked for. */
  folded: boolean;
  hand: Hand;
  onPart: () => void;
  onJoin: () => void;
  /** How many pieces are chosen. */
  many: number;
}) {
  return (
    <fieldset className={folded ? 'hand is-folded' : 'hand'}>
      <legend className="unseen">By hand</legend>
      <button
        type="button"
        className="button"
        onClick={onPart}
        disabled={many !== 1}
        title="Part at its necks (S)"
      >
        <Icon name="part" />
        <span>Part</span>
      </button>
      <ToolButton hand={hand} tool="cut" />
      <button
        type="button"
        className="button"
        onClick={onJoin}
        disabled={many < 2}
        title="Join the chosen pieces (J)"
      >
        <Icon name="join" />
        <span>Join</span>
      </button>
      <ToolButton hand={hand} tool="redraw" />
      <ToolButton hand={hand} tool="draw" />
      <ToolButton hand={hand} tool="measure" />
    </fieldset>
  );
}

function ToolButton({ hand, tool }: { hand: Hand; tool: Tool }) {
  const { name } = TOOLS[tool];
  return (
    <button
      type="button"
      className="button"
      aria-pressed={hand.sketch?.tool === tool}
      title={`${name} (${KEYS[tool]})`}
      onClick={() => hand.take(tool)}
    >
      <Icon name={ICONS[tool]} />
      <span>{name}</span>
    </button>
  );
}

/** What the tool in the hand waits for. */
export function HandSays({ hand }: { hand: Hand }) {
  const { sketch } = hand;
  if (sketch === null) return null;
  if (sketch.tool === 'draw' && sketch.done) return <NewPiece hand={hand} />;
  return (
    <p className="hand-says" role="status">
      <strong>{TOOLS[sketch.tool].name}.</strong>{' '}
      {sketch.tool === 'measure' && hand.label !== '' ? `${hand.label}. ` : ''}
      {TOOLS[sketch.tool].says}{' '}
      <small>
        By keys: arrows move the cross, <kbd>Space</kbd> sets a {isLine(sketch.tool) ? 'point' : 'corner'},{' '}
        {isLine(sketch.tool) ? null : (
          <>
            <kbd>Enter</kbd> closes the outline, <kbd>Backspace</kbd> takes the last corner back,{' '}
          </>
        )}
        <kbd>Esc</kbd> leaves.
      </small>
    </p>
  );
}

function NewPiece({ hand }: { hand: Hand }) {
  const [shape, setShape] = useState<MarkedParticleJson['shape']>('fragment');
  const [colour, setColour] = useState<MarkedParticleJson['colour']>('clear');
  return (
    <form
      className="hand-says"
      onKeyDown={(event) => {
        // A list keeps Enter and Escape to itself; here they add the piece and leave it.
        if (event.key === 'Escape') hand.leave();
        else if (event.key === 'Enter' && event.target instanceof HTMLSelectElement) {
          event.preventDefault();
          hand.name(shape, colour);
        }
      }}
      onSubmit={(event) => {
        event.preventDefault();
        hand.name(shape, colour);
      }}
    >
      <strong>A new piece.</strong>
      <label>
        Shape{' '}
        {/* biome-ignore lint/a11y/noAutofocus: the outline was just closed; its names are what comes next. */}
        <select autoFocus value={shape} onChange={(e) => setShape(e.target.value as typeof shape)}>
          {SHAPE_NAMES.map((one) => (
            <option key={one}>{one}</option>
          ))}
        </select>
      </label>
      <label>
        Colour{' '}
        <select value={colour} onChange={(e) => setColour(e.target.value as typeof colour)}>
          {COLOUR_NAMES.map((one) => (
            <option key={one}>{one}</option>
          ))}
        </select>
      </label>
      <button type="submit" className="button keep">
        <Icon name="keep" /> Add
      </button>
      <button type="button" className="button quiet" onClick={hand.leave}>
        Leave
      </button>
    </form>
  );
}
