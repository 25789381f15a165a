import { Icon } from '../look/icons.tsx';
import { toEvidence } from './paths.ts';

/** From one subset, piece, round or the drills back to the place. */
export const BackToEvidence = ({ study }: { study: string }) => (
  <a className="button quiet back" href={toEvidence(study)}>
    <Icon name="back" size={20} /> Evidence
  </a>
);
