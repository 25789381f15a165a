/** The entrance of imaging: particles on photographs of filters, found and measured. */
export { colourInside } from './colour-inside.ts';
export { type Lab, labAgainst, nameColour } from './colour-name.ts';
export { type Floor, shareFound } from './completeness/chance-of-finding.ts';
export { type Completeness, completenessSteps } from './completeness/completeness.ts';
export { USUAL_DESIGN } from './completeness/design.ts';
export { countingSquare } from './counting-square.ts';
export { calipers, convexHull, measureOutline, type OutlineMeasures } from './feret.ts';
export { classicalFinder } from './find.ts';
export { findByHands } from './find-by-hands.ts';
export { findInStrips, type StripWatch } from './find-strips.ts';
export * from './finding.ts';
export { frameWeight } from './frame-weight.ts';
export { doTask, type Ground, type Hands, oneHand, type Task } from './many-hands.ts';
export { countOnce, type Together } from './overlap/count-once.ts';
export type { Field, Sighting } from './overlap/field.ts';
export { type FieldLink, linkFields } from './overlap/lay-together.ts';
export type { Place } from './overlap/place-fields.ts';
export { cutOutline, mergeOutlines, splitOutline } from './redraw.ts';
