import type { Wheel } from '../../spokes/wheel.ts';
export default function Judge({ wheel }: { readonly wheel: Wheel }) {
  return <main>{wheel.name}</main>;
}
