/** What is wrong with a wheel file, and where. */
export type WheelProblemReason =
  | 'notJson'
  | 'tooBig'
  | 'notAWheelFile'
  | 'newerVersion'
  | 'missing'
  | 'wrongType'
  | 'outOfRange'
  | 'tooLong'
  | 'unknownWord'
  | 'unknownKind'
  | 'unknownMaterial'
  | 'unknownNipple'
  | 'unknownField'
  | 'noSuchSpoke' // of a round: kept, counts for nothing
  | 'limitsContradict'; // the minimum lies above the maximum

export interface WheelProblem {
  /** Dotted, from the file's root: `wheel.layout.spokes.3.side`. */
  readonly path: string;
  readonly reason: WheelProblemReason;
  /** The wrong value, or what would be right. */
  readonly detail: string;
}
