import type { StepJson } from '../../api/index.ts';
import type { Step } from '../../study/index.ts';

/** A step as it travels, as the rules of the study read it. */
export const asStep = ({ touches: t, minutes_uncovered, ...step }: StepJson): Step => ({
  ...step,
  touches: {
    vessel: t.vessel,
    tool: t.tool,
    liquid: t.liquid,
    reagentLot: t.reagent_lot,
    place: t.place,
    person: t.person,
    filterLot: t.filter_lot,
    optics: t.optics,
  },
  minutesUncovered: minutes_uncovered,
});
