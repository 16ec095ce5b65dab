import type { Wheel } from '../../../spokes/wheel.ts';

/** A demo wheel brings its own sound. */
export const isDemo = (wheel: Wheel): boolean => wheel.id.startsWith('demo-');

/** By the clock and through the loudspeaker, or as fast as the ear takes it. */
export type DemoPlay = 'aloud' | 'silently';
