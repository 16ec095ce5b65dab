import type { MessageCode, MessageOffer } from '../store/message.ts';
import type { Advice } from './advice.ts';

type Say = (detail: string) => Advice;
const plain =
  (sentence: string, next = ''): Say =>
  () => ({ sentence, next });

const MESSAGES: Readonly<Record<MessageCode, Say>> = {
  microphoneRefused: plain(
    'The microphone was refused, so no spoke can be heard.',
    'Allow it in the browser’s settings for this page, then start listening again. Sound never leaves this device.',
  ),
  microphoneAbsent: plain('No microphone was found.', 'Connect one, then start listening again.'),
  microphoneBusy: plain('Another app holds the microphone.', 'Close it, then start listening again.'),
  microphoneUnsupported: plain(
    'This browser gives no access to the microphone here.',
    'Open the page over https in a current browser.',
  ),
  microphoneEnded: plain(
    'The microphone was taken away. The round stands as it is.',
    'Start listening again to go on where you were.',
  ),
  microphoneChanged: (name) => ({
    sentence: `A microphone or headset${name ? ` (${name})` : ''} was put on or taken off, so another may be hearing now. The round stands as it is.`,
    next: 'Switch a wireless headset off, then listen again; the microphone is checked anew.',
  }),
  microphoneMuted: plain(
    'The system muted the microphone. The round stands as it is.',
    'End the call, or unmute the microphone in the system.',
  ),
  microphoneSilent: plain(
    'The microphone sends nothing at all.',
    'Check that it is not muted or covered, then start listening again.',
  ),
  microphoneBluetooth: (label) => ({
    sentence: `A wireless headset${label ? ` (${label})` : ''} sends telephone sound, which loses a spoke’s upper tones.`,
    next: 'Switch it off and use the device’s own microphone.',
  }),
  rateTooLow: (rate) => ({
    sentence: `The microphone sends ${rate ? `${rate} samples a second` : 'too few samples'}; at least 32 000 are needed.`,
    next: 'Switch a wireless headset off and use the device’s own microphone.',
  }),
  rateUntrue: (rate) => ({
    sentence: `The microphone does not run at the rate it states${rate ? `, but near ${rate} samples a second` : ''}: every tone would be wrong.`,
    next: 'Close other apps that use sound and reload this page.',
  }),
  soundProcessed: (stages) => ({
    sentence: `The system still edits the sound${stages ? ` (${stages})` : ''}. That bends tones.`,
    next: 'Switch voice features off for this browser, or use another browser.',
  }),
  soundInterrupted: plain(
    'The sound was interrupted by a call, the lock screen or another app. The round stands as it is.',
    'Come back to this page; if it does not go on by itself, start listening again.',
  ),
  soundDidNotStart: plain('The browser did not start its sound.', 'Tap once more to listen.'),
  samplesLost: plain(
    'A part of the sound was lost; a pluck in that moment does not count.',
    'Close other apps if this repeats.',
  ),
  heardElsewhere: plain(
    'Another tab or window of this app listens already.',
    'Pause the round there, then start listening again.',
  ),
  earFailed: plain('The hearing part stopped. The round stands as it is.', 'Start listening again.'),

  storageFull: plain(
    'This device has no room left: the last change could not be saved.',
    'Export everything to a file now, then delete recordings or old wheels.',
  ),
  storageRefused: plain(
    'This browser does not let the page save anything.',
    'Export to a file before you close the page, or leave private browsing.',
  ),
  storageBlocked: plain('Another tab holds an older version open.', 'Close the other tab, then reload this one.'),
  changedElsewhere: (figures) => ({
    sentence: 'Another tab or window of this app changed the same wheel.',
    next: figures
      ? `What was changed here stands – ${figures}. All else is kept from both.`
      : 'The changes of both are kept.',
  }),
  changedThere: (figures) => ({
    sentence: `Another tab or window of this app changed this wheel – ${figures}.`,
    next: 'Where the earlier figure was right, type it again here.',
  }),
  storageLost: plain('The browser closed the saved data.', 'Export everything to a file now, then reload.'),
  storageUnreadable: (name) => ({
    sentence: `${name ? `“${name}”` : 'A saved wheel'} could not be read and was left untouched.`,
    next: 'Bring it back from an exported file.',
  }),
  storageMayBeCleared: plain(
    'This browser may clear what is saved when it is not used for some days.',
    'Install the app, or export everything to a file from time to time.',
  ),

  fileNotJson: (name) => ({
    sentence: `${name || 'The file'} is not a wheel file: it is not JSON text.`,
    next: 'Choose a file that was exported here.',
  }),
  fileNotOurs: (name) => ({
    sentence: `${name || 'The file'} is no wheel file, and no archive with one.`,
    next: 'Choose a file that was exported here.',
  }),
  fileNewer: (version) => ({
    sentence: `The file was written by a newer version of the app${version ? ` (format ${version})` : ''}.`,
    next: 'Update the app, then import it again.',
  }),
  fileBroken: (advice) => ({
    sentence: 'The file does not hold together. Nothing was taken from it.',
    next: advice || 'Export it again where it came from.',
  }),
  'sound:notWav': (name) => ({
    sentence: `${name || 'The file'} is no sound that this browser can play.`,
    next: 'Choose a WAV file, or save the recording as WAV, 16 or 24 bits, at its own rate.',
  }),
  'sound:noFormat': (name) => ({
    sentence: `${name || 'The file'} does not say how its sound is stored, or contradicts itself.`,
    next: 'Copy it again from the device that recorded it.',
  }),
  'sound:noSamples': (name) => ({
    sentence: `${name || 'The file'} holds no sound.`,
    next: 'Copy it again, or record anew: the recorder was stopped too soon.',
  }),
  'sound:encodingUnknown': (name) => ({
    sentence: `The sound of ${name || 'the file'} is coded in a way that is not read here.`,
    next: 'Save it as plain WAV: 16, 24 or 32 bits, or 32-bit float.',
  }),
  'sound:rateUnsupported': (name) => ({
    sentence: `${name || 'The file'} has a sampling rate at which tones cannot be measured.`,
    next: 'Record with 44 100 or 48 000 samples a second; raising the rate afterwards brings nothing back.',
  }),
  'sound:channelsUnsupported': (name) => ({
    sentence: `${name || 'The file'} has more channels than are read here.`,
    next: 'Save one or two of them.',
  }),
  fileEmpty: plain('The file holds no wheel.', 'Choose another file.'),
  fileUnreadable: (name) => ({
    sentence: `${name || 'The file'} could not be opened.`,
    next: 'Choose another file; sound is read from WAV and from what this browser can play.',
  }),
  backupTooLarge: (size) => ({
    sentence: `All wheels together make a file of ${size || 'more than 64 MB'}, larger than one that can be read again.`,
    next: 'Export the wheels one by one.',
  }),
  wheelTooLarge: (what) => ({
    sentence: `${what || 'The wheel makes a file of more than 64 MB'}, larger than one that can be read again. No file was made.`,
    next: 'Delete rounds of it that are no longer needed, then export it again.',
  }),
  fileTooLarge: (what) => ({
    sentence: `${what || 'The file is larger than any that is read'}. Nothing was taken from it.`,
    next: 'Choose the file of one wheel, or one that was exported here.',
  }),
  fileSpokesUnknown: (where) => ({
    sentence: `Plucks or readings of spokes that the wheel does not have are kept and count for nothing${where ? `: ${where}` : ''}.`,
    next: 'Check that the file is of this wheel before you import.',
  }),
  fileFieldsUnknown: (paths) => ({
    sentence: `Fields of the file that are not known were passed over${paths ? `: ${paths}` : ''}.`,
    next: 'Check their spelling before you import: what they say does not count.',
  }),
  shareFailed: plain('Sharing did not work.', 'Try again, or use the download.'),

  wheelSaved: plain('Saved on this device.'),
  wheelDeleted: (name) => ({ sentence: `${name ? `“${name}”` : 'The wheel'} was deleted.`, next: '' }),
  fileExported: (name) => ({
    sentence: `${name || 'The file'} was exported.`,
    next: 'It is where you sent it, or among this device’s downloads.',
  }),
  fileImported: (what) => ({ sentence: `Imported${what ? `: ${what}` : ''}.`, next: '' }),
  roundContinued: (spoke) => ({
    sentence: 'An unfinished round waits here. Everything settled is kept.',
    next: spoke ? `It goes on at spoke ${spoke}.` : 'Go on where you were.',
  }),
  heardUnseen: (spokes) => ({
    sentence: `While this page was out of sight, these spokes were heard and count: ${spokes}.`,
    next: 'If that was not your hand, tap each on the wheel, then “Repeat”.',
  }),
  roundFinished: plain('The round is complete.', 'Read the verdict.'),
  updateReady: plain('A new version of the app is ready.', 'It takes a moment, and nothing saved is touched.'),
  wakeLockMissing: plain(
    'The screen may go dark while you pluck.',
    'Set a longer screen time in the system, or touch the screen now and then.',
  ),
  measureFailed: plain(
    'The tensions could not be computed this time. What was heard is kept.',
    'Open the verdict again; if it repeats, reload the page.',
  ),
};

/** The sentence for a message and what to do next; `next` is empty where nothing needs doing. */
export const messageText = (code: MessageCode, detail = ''): Advice => MESSAGES[code](detail);

export const OFFER_TEXT: Readonly<Record<MessageOffer, string>> = {
  exportEverything: 'Export everything',
  listenAgain: 'Listen again',
  reload: 'Reload',
  applyUpdate: 'Update now',
};
