/**
 * One channel from a recording of one or more.
 * Two channels that agree are averaged, which lowers their own noise by up to 3 dB. Where the average would lose more than
 * half the energy (opposite phase, or one microphone far from the spoke or dead) the louder channel is taken as it is.
 * @param channels equally long, full scale ±1, at least one.
 * @throws RangeError when there is none, or their lengths differ.
 */
export function pickChannel(channels: readonly Float32Array<ArrayBuffer>[]): Float32Array<ArrayBuffer> {
  const first = channels[0];
  if (first === undefined) throw new RangeError('channels is empty, expected at least one');
  if (channels.length === 1) return first;
  if (channels.some((c) => c.length !== first.length)) throw new RangeError('channels differ in length');
  const mean = new Float32Array(first.length);
  let meanEnergy = 0;
  for (let i = 0; i < mean.length; i++) {
    let sum = 0;
    for (const c of channels) sum += c[i] as number;
    const value = sum / channels.length;
    mean[i] = value;
    meanEnergy += value * value;
  }
  let loudest = first;
  let loudestEnergy = -1;
  for (const c of channels) {
    let energy = 0;
    for (let i = 0; i < c.length; i++) energy += (c[i] as number) ** 2;
    if (energy > loudestEnergy) {
      loudestEnergy = energy;
      loudest = c;
    }
  }
  return meanEnergy < 0.5 * loudestEnergy ? loudest : mean;
}
