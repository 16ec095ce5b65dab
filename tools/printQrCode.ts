import { renderUnicodeCompact } from 'uqr';
import type { Plugin } from 'vite';

/** `npm start` prints the address for a phone on the same network, as text and as a QR code that also reads on light terminals. */
export function printQrCode(): Plugin {
  return {
    name: 'print-qr-code',
    configurePreviewServer(server) {
      const printUrls = server.printUrls.bind(server);
      server.printUrls = () => {
        printUrls();
        const address = server.resolvedUrls?.network[0];
        if (!address) return;
        const inverted = renderUnicodeCompact(address, { border: 2 })
          .split('\n')
          .map((line) => `\x1b[97;40m${line}\x1b[0m`)
          .join('\n');
        console.log(
          `\n${inverted}\n${address}\nA phone gives the microphone to https only: see "On a phone" in README.md.\n`,
        );
      };
    },
  };
}
