const LOCK = 'ringtrue-ear';

/** Of this tab's last turn: settles once it let go. */
let before: Promise<unknown> = Promise.resolve();

/**
 * One tab listens at a time: two would each count the same pluck, and a spoke would settle by one. It is let go when the tab closes, too.
 *
 * @returns lets go; absent while another tab holds the ear
 */
export async function takeEar(): Promise<(() => void) | undefined> {
  if (!navigator.locks) return () => {};
  await before;
  return new Promise((resolve) => {
    before = navigator.locks
      .request(LOCK, { ifAvailable: true }, (lock) => {
        if (lock === null) return resolve(undefined);
        return new Promise<void>((letGo) => resolve(letGo));
      })
      // A browser that gives no locks hears all the same.
      .catch(() => resolve(() => {}));
  });
}
