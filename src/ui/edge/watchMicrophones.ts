/**
 * Tells when the device's microphones are others than they were: a headset put on or taken off, another one chosen in the system. A running
 * track may then go on with another microphone, and nothing says so. Loudspeakers that come and go are not told.
 *
 * @param tell the name of what came or went, empty where the browser gives none
 * @returns stops watching
 */
export function watchMicrophones(tell: (name: string) => void): () => void {
  const devices = navigator.mediaDevices;
  const off = new AbortController();
  const before = microphones(devices);
  const compare = async () => {
    const [then, now] = await Promise.all([before, microphones(devices)]);
    if (off.signal.aborted) return;
    const changed = [...now.keys(), ...then.keys()].find((key) => now.has(key) !== then.has(key));
    if (changed !== undefined) tell(now.get(changed) ?? then.get(changed) ?? '');
  };
  devices.addEventListener('devicechange', () => void compare().catch(() => {}), { signal: off.signal });
  return () => off.abort();
}

/** Names by all that tells one from another: the same entry stands for another device where the system's choice changed. */
async function microphones(devices: MediaDevices): Promise<ReadonlyMap<string, string>> {
  const all = await devices.enumerateDevices();
  return new Map(
    all
      .filter(({ kind }) => kind === 'audioinput')
      .map(({ deviceId, groupId, label }) => [`${deviceId} ${groupId} ${label}`, label]),
  );
}
