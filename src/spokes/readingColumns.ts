/** A column of what the gauge showed, one reading a cell. */
const READING = /\b(reading|as read|mark|scale|messwert|ablesung|lecture|lectura|lettura)s?\b/i;
/** A column that follows from the readings, or tells something else of the spoke. */
const BESIDE =
  /^\W*u\b|\bmean\b|\baverage\b|\bavg\b|mittel|\bmoyenne\b|\bmedia\b|uncertain|unsicherheit|±|\b(std|sd)\b|deviation|differ|\bdate\b|\bdatum\b|^\W*time\b|\bnotes?\b|remark|comment|bemerkung/i;
const SPOKE_OR_SIDE = /^\W*(spoke|place|number|no\.?|nr\.?|#|side|speiche|seite|rayon|côté|raggio|lato|radio|lado)\b/i;

/**
 * Which columns below a head are none of the gauge's readings. Where the head calls some `reading`, all others but spoke and side;
 * otherwise those that it calls a mean, an uncertainty or a note.
 *
 * @returns Their indices.
 */
export function besideReadings(head: readonly string[]): ReadonlySet<number> {
  const named = head.some((cell) => READING.test(cell));
  return new Set(
    head.flatMap((cell, i) => {
      const beside = named ? !READING.test(cell) && !SPOKE_OR_SIDE.test(cell) : BESIDE.test(cell);
      return cell.trim() !== '' && beside ? [i] : [];
    }),
  );
}
