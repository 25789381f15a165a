// AssemblyScript: everything the compiled kernels offer.
export { distance } from './distance';
export { convolve, dilate, halve, localMax, smooth } from './planes';
export {
  bend,
  inverse,
  lightnessBytes,
  markBeyond,
  markColour,
  markLightness,
  opponentBytes,
  ramp,
  sumAlong,
  weigh,
} from './rows';
export { beyond, crop, halfHeight, mix, strength } from './windows';
