import type { FilterWish } from '../../api/index.ts';
import { typedNumber } from '../look/fields.tsx';

type Typed = { readonly [K in 'material' | 'pore' | 'diameter' | 'pitch' | 'lot']: string };

/** The filter that was typed, or one sentence on what can't be read. */
export function filterWish(name: string, form: Typed, fraction: string | null = null): FilterWish | string {
  const [pore, diameter] = [typedNumber(form.pore), typedNumber(form.diameter)];
  const pitch = form.pitch.trim() === '' ? null : typedNumber(form.pitch);
  if (pore === null) return 'Pore: a number in µm is needed; it stands on the packet.';
  if (diameter === null)
    return 'Diameter of the disc: a number in mm is needed; measure the wet circle or the funnel’s opening.';
  if (form.pitch.trim() !== '' && pitch === null)
    return 'Printed squares: a number in mm is needed, or nothing where there is no print.';
  return {
    name,
    material: form.material,
    pore_um: pore,
    effective_diameter_mm: diameter,
    pitch_mm: pitch,
    lot: form.lot,
    fraction,
    examined_stated: null,
    note: '',
  };
}
