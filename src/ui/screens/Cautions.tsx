/** What may hurt, in few words; shown before the first round and in Help and reports. */
export const Cautions = () => (
  <ul>
    <li>Wear eye protection: a spoke under tension can break.</li>
    <li>Never go past the maker’s limit, whatever a phone reads.</li>
    <li>A reading from this app alone never clears a wheel to ride.</li>
  </ul>
);
