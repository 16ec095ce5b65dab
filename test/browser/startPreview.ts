import { type Plugin, preview } from 'vite';
import { builtFolder } from './builtFolder.ts';

/** Serves the built app on a free port of this machine. */
export async function startPreview(
  plugins: Plugin[] = [],
): Promise<{ readonly url: string; readonly close: () => Promise<void> }> {
  const server = await preview({
    build: { outDir: builtFolder() },
    preview: { port: 0, host: 'localhost', open: false },
    logLevel: 'error',
    plugins,
  });
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
