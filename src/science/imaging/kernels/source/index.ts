// AssemblyScript: everything the compiled kernels offer.
export { convolve, dilate, halve, localMax, smooth } from './planes';
