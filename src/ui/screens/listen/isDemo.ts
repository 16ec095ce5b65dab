import type { Wheel } from '../../../spokes/wheel.ts';

/** A demo wheel brings its own sound. */
export const isDemo = (wheel: Wheel): boolean => wheel.id.startsWith('demo-');
