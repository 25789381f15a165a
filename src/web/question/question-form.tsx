import { useState } from 'react';
import type { QuestionWish } from '../../api/index.ts';
import { COLOURS, type Colour, SHAPES, type Shape } from '../../science/imaging/finding.ts';
import { Choice, Field, NumberField, Sheet, typedNumber } from '../look/fields.tsx';
import { Ticks } from '../studies/ticks.tsx';

type Unit = NonNullable<QuestionWish['unit']>;

interface Typed {
  readonly name: string;
  readonly product: string;
  readonly act: string;
  readonly duration: string;
  readonly liquid: string;
  readonly from: string;
  readonly to: string;
  readonly unit: Unit;
  readonly countsAs: string;
  readonly confidence: string;
  readonly matters: string;
  readonly shapes: readonly Shape[];
  readonly colours: readonly Colour[];
}

const NOTHING: Typed = {
  name: '',
  product: '',
  act: '',
  duration: '',
  liquid: '',
  from: '100',
  to: '',
  unit: 'particles per gram',
  countsAs: '',
  confidence: '95',
  matters: '',
  shapes: [],
  colours: [],
};

const typedOf = (asked: QuestionWish): Typed => ({
  name: '',
  product: asked.product,
  act: asked.act,
  duration: asked.duration_min === null ? '' : String(asked.duration_min),
  liquid: asked.liquid,
  from: String(asked.size_from_um),
  to: asked.size_to_um === null ? '' : String(asked.size_to_um),
  unit: asked.unit,
  countsAs: asked.counts_as_microplastic,
  confidence: String(Math.round(asked.confidence * 10_000) / 100),
  matters: asked.matters === null ? '' : String(asked.matters),
  shapes: asked.shapes,
  colours: asked.colours,
});

/** What cannot be sent as it was typed, in one sentence; the program says the rest. */
function wishOf(typed: Typed): QuestionWish | string {
  const number = (what: string, text: string): number | null | string => {
    if (text.trim() === '') return null;
    const read = typedNumber(text);
    return read === null ? `${what}: “${text}” is not a number; write it in figures.` : read;
  };
  const duration = number('Duration', typed.duration);
  const from = number('Smallest size', typed.from);
  const to = number('Largest size', typed.to);
  const confidence = number('Confidence', typed.confidence);
  const matters = number('What would matter', typed.matters);
  for (const read of [duration, from, to, confidence, matters]) if (typeof read === 'string') return read;
  if (from === null) return 'Smallest size: say from which size a piece counts, such as 100.';
  if (confidence === null) return 'Confidence: say how sure the answer has to be, such as 95.';
  return {
    product: typed.product,
    act: typed.act,
    duration_min: duration as number | null,
    liquid: typed.liquid,
    size_from_um: from as number,
    size_to_um: to as number | null,
    unit: typed.unit,
    counts_as_microplastic: typed.countsAs,
    shapes: [...typed.shapes],
    colours: [...typed.colours],
    confidence: (confidence as number) / 100,
    matters: matters as number | null,
  };
}

/** The question, to be written or changed. `named`: a new study also wants its name. */
export function QuestionForm({
  before,
  named,
  problem,
  busy,
  send,
  onClose,
}: {
  before: QuestionWish | null;
  named: boolean;
  problem: string | null;
  busy: boolean;
  send: (question: QuestionWish, name: string) => void;
  onClose?: () => void;
}) {
  const [typed, setTyped] = useState<Typed>(before ? typedOf(before) : NOTHING);
  const [own, setOwn] = useState<string | null>(null);
  const put = (field: Exclude<keyof Typed, 'shapes' | 'colours'>) => (value: string) =>
    setTyped({ ...typed, [field]: value });
  const submit = () => {
    const wish = wishOf(typed);
    if (typeof wish === 'string') {
      setOwn(wish);
      return;
    }
    setOwn(null);
    send(wish, typed.name.trim() || shortName(typed));
  };
  return (
    <Sheet
      title={named ? 'What do you want to know?' : 'Change the question'}
      lead={
        named
          ? 'One study, one question. It can be changed until the first count; what it was before stays on record.'
          : 'What it was before stays in the journal. After counts are known a change of sizes or rule weakens the claim.'
      }
      problem={own ?? problem}
      deed={named ? 'Begin the study' : 'Keep the change'}
      busy={busy}
      onSubmit={submit}
      {...(onClose ? { onClose } : {})}
    >
      <Field
        wide
        label="Product"
        value={typed.product}
        set={put('product')}
        placeholder="Chopping board of polyethylene, five years of use"
        hint="What may shed: material, age, how it was used."
      />
      <Field
        wide
        label="What is done to it"
        value={typed.act}
        set={put('act')}
        placeholder="One hundred grams of carrot cut to cubes on it"
        hint="The act as people do it; controls will do the same without the product."
      />
      <NumberField label="For how long" unit="min" value={typed.duration} set={put('duration')} />
      <Field
        label="Liquid"
        value={typed.liquid}
        set={put('liquid')}
        placeholder="Filtered water"
        hint="What carries the particles to the filter."
      />
      <NumberField
        label="Pieces from"
        unit="µm"
        value={typed.from}
        set={put('from')}
        hint="Longest side. 100 µm suits a macro lens, 50 µm a stereo microscope."
      />
      <NumberField
        label="Pieces up to"
        unit="µm"
        value={typed.to}
        set={put('to')}
        hint="Empty: no upper end."
      />
      <Choice<Unit>
        label="Unit of the answer"
        value={typed.unit}
        set={(unit) => setTyped({ ...typed, unit })}
        options={[
          ['particles per gram', 'particles per gram'],
          ['particles per portion', 'particles per portion (piece, cup, use)'],
        ]}
      />
      <Field
        wide
        label="What counts as microplastic"
        value={typed.countsAs}
        set={put('countsAs')}
        placeholder="Pieces without cells or plant fibres, even in colour, that do not crumble; wax and rubber out"
        hint="Decide about wax, rubber, soft elastomers and viscose before anything is counted."
      />
      <Ticks
        legend="Only these shapes (none ticked: all)"
        all={SHAPES.map((shape) => [shape, shape])}
        chosen={typed.shapes}
        set={(shapes) => setTyped({ ...typed, shapes })}
      />
      <Ticks
        legend="Only these colours (none ticked: all)"
        all={COLOURS.map((colour) => [colour, colour])}
        chosen={typed.colours}
        set={(colours) => setTyped({ ...typed, colours })}
      />
      <NumberField
        label="How sure"
        unit="%"
        value={typed.confidence}
        set={put('confidence')}
        hint="Yes means above the matching controls at this confidence."
      />
      <NumberField
        label="From how many it matters"
        value={typed.matters}
        set={put('matters')}
        hint="In the unit of the answer. Empty: any release matters."
      />
      {named ? (
        <Field
          wide
          label="Name of the study"
          value={typed.name}
          set={put('name')}
          placeholder={shortName(typed)}
          hint="Short; left empty it is made from the question."
        />
      ) : null}
    </Sheet>
  );
}

function shortName({ product, act }: Typed): string {
  const from = [product, act].map((words) => words.trim()).filter((words) => words !== '');
  return from.join(', ').slice(0, 100) || 'New study';
}
