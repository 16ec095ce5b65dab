import type { Message } from '../store/message.ts';
import { useActions, useStore } from '../store/useStore.ts';
import { messageText, OFFER_TEXT } from '../text/messageText.ts';

/** Said elsewhere on the screen while it matters. */
const SHOWN_ELSEWHERE: ReadonlySet<string> = new Set(['roundFinished', 'wakeLockMissing']);

/** What the app has to say besides readings: one sentence, what to do next, and a way to close it. */
export function Messages() {
  const messages = useStore((state) => state.messages);
  return (
    <div class="messages no-print" aria-live="polite">
      {/* Said again, it stays where it is: its button may be under a finger. */}
      {messages
        .filter((message) => !SHOWN_ELSEWHERE.has(message.code))
        .map((message) => (
          <MessageNote key={message.code} message={message} />
        ))}
    </div>
  );
}

function MessageNote({ message }: { readonly message: Message }) {
  const actions = useActions();
  const advice = messageText(message.code, message.detail);
  const offer = message.offer;
  const take = () => {
    actions.dismiss(message.id);
    if (offer === 'exportEverything') void actions.exportEverything();
    if (offer === 'listenAgain') void actions.listenToMicrophone();
    if (offer === 'applyUpdate') actions.applyUpdate();
    if (offer === 'reload') location.reload();
  };
  return (
    <div class={message.weight === 'note' ? 'note message' : 'note message caution'}>
      <p>
        <strong>{advice.sentence}</strong> {advice.next}
      </p>
      <div class="row">
        {offer !== undefined && (
          <button type="button" class="button" onClick={take}>
            {OFFER_TEXT[offer]}
          </button>
        )}
        <button type="button" class="button" onClick={() => actions.dismiss(message.id)}>
          Close
        </button>
      </div>
    </div>
  );
}
