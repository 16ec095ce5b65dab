import type { TensionUnit } from '../units.ts';
import type { GaugeChart } from './gaugeChart.ts';
import type { Side } from './side.ts';
import type { WheelState } from './wheelState.ts';

/** A second instrument that was put on this wheel, with what it read. */
export interface Gauge {
  readonly id: string;
  readonly name: string;
  /** Its readings are tensions in this unit, or marks that the charts turn into tension. */
  readonly scale: 'direct' | 'chart';
  /** Of direct readings. */
  readonly unit: TensionUnit;
  /** Of the spokes of each side, with `chart`. */
  readonly charts?: Readonly<Partial<Record<Side, GaugeChart>>>;
  /** Standard uncertainty of one reading, percent of tension, as its maker or its calibration states it. Absent: not stated. */
  readonly uPercent?: number;
  /** When and how it was last calibrated, in words. */
  readonly calibrated?: string;
  readonly rounds: readonly GaugeRound[];
}

/** One walk round the wheel with it. */
export interface GaugeRound {
  readonly id: string;
  /** ISO 8601, UTC. */
  readonly at: string;
  readonly person?: string;
  readonly state: WheelState;
  readonly readings: readonly GaugeReading[];
}

/** As read off: tensions in the gauge's unit, or marks of its scale. */
export interface GaugeReading {
  readonly spoke: number;
  /** Repeats in the order read. */
  readonly values: readonly number[];
}
