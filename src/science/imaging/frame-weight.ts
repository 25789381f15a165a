/**
 * Pieces at the frame. A large piece is cut by the frame more often than a small one; counting only whole pieces, each
 * stands for 1/P of them, P = (Z₁ − F_x)(Z₂ − F_y) / (Z₁ Z₂). Source: Miles 1974, Lantuéjoul 1980, as in ISO 13322-1.
 */
export function frameWeight(frameWidth: number, frameHeight: number, feretX: number, feretY: number): number {
  if (!(frameWidth > 0 && frameHeight > 0)) {
    throw new RangeError(`frame: sides above 0 are needed, given ${frameWidth} × ${frameHeight}`);
  }
  if (feretX < 0 || feretY < 0 || feretX >= frameWidth || feretY >= frameHeight) {
    throw new RangeError(
      `piece: a box smaller than the frame is needed, given ${feretX} × ${feretY} in ${frameWidth} × ${frameHeight}`,
    );
  }
  return (frameWidth * frameHeight) / ((frameWidth - feretX) * (frameHeight - feretY));
}
