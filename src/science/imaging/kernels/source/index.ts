// AssemblyScript: everything the compiled kernels offer.
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
export { beyond, halfHeight, mix, strength } from './windows';
