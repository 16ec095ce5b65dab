import { preview } from 'vite';

/** Serves `dist/` on a free port of this machine. */
export async function startPreview(): Promise<{ readonly url: string; readonly close: () => Promise<void> }> {
  const server = await preview({ preview: { port: 0, host: 'localhost', open: false }, logLevel: 'error' });
  const url = server.resolvedUrls?.local[0];
  if (!url) throw new Error('The preview server did not say where it listens.');
  return {
    url,
    close: async () => {
      // Chromium keeps its connections open; a server waits for them for ever.
      if ('closeAllConnections' in server.httpServer) server.httpServer.closeAllConnections();
      await server.close();
    },
  };
}
