import { useActions, useStore } from '../store/useStore.ts';
import { newIdText } from '../text/newIdText.ts';

/** What an import would do, before it does it. */
export function ImportPreview() {
  const actions = useActions();
  const preview = useStore((state) => state.files.importPreview);
  if (preview === undefined) return null;
  const nothing = preview.added.length === 0 && preview.merged.length === 0;
  return (
    <section class="note" aria-label="Import">
      <p>
        <strong>{preview.fileName}</strong>
      </p>
      <ul>
        {preview.added.map((wheel) => (
          <li key={wheel.id}>“{wheel.name}” is new and will be added.</li>
        ))}
        {preview.merged.map(({ wheel, roundsAdded }) => (
          <li key={wheel.id}>
            “{wheel.name}” is here already; {addedText(roundsAdded)} will be added to it.
          </li>
        ))}
        {preview.unchanged.map((wheel) => (
          <li key={wheel.id}>“{wheel.name}” is the same here; nothing changes.</li>
        ))}
      </ul>
      {preview.newIds.map((one) => (
        <p key={one.now}>{newIdText(one)}</p>
      ))}
      {preview.recordings !== undefined && (
        <p>{preview.recordings === 1 ? 'One recording comes' : `${preview.recordings} recordings come`} along.</p>
      )}
      <p>Nothing here is deleted.</p>
      <div class="row">
        {!nothing && (
          <button type="button" class="button" onClick={() => actions.confirmImport()}>
            Import
          </button>
        )}
        <button type="button" class="button" onClick={() => actions.cancelImport()}>
          {nothing ? 'Close' : 'Leave it'}
        </button>
      </div>
    </section>
  );
}

const addedText = (rounds: number): string => {
  if (rounds === 0) return 'what is new in the file';
  return rounds === 1 ? 'one round' : `${rounds} rounds`;
};
