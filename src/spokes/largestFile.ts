/**
 * Bytes of one file, plain or of an archive. A round of 64 plucks takes 0.2 MB with four tones each, 0.4 MB with eight and 1 MB with sixteen,
 * so that this is some 60 to 400 rounds, and twice as many in a backup, which is not indented: a lower cap would refuse a workshop's own. A
 * recording of five minutes at 96 kHz has 58 MB.
 */
export const LARGEST_FILE = 64_000_000;
/** Of an archive, packed or all that it unpacks to: its recordings take most, some 50 kB a pluck. */
export const LARGEST_ARCHIVE = 1_000_000_000;
/** Of one archive as it is written, so that a phone that holds it in memory, and reads it again, does. Recordings beyond it go into a further one. */
export const LARGEST_WRITTEN_ARCHIVE = 250_000_000;
