import { existsSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { gzipSync } from 'node:zlib';
import type { Plugin } from 'vite';

const SCRIPT_OR_STYLE = /^\/assets\/[\w.-]+\.(js|css)$/;

/** `npm start` sends scripts and styles packed, as public servers do: a phone's first load is then a third of the size. */
export function compressAnswers(): Plugin {
  return {
    name: 'compress-answers',
    configurePreviewServer({ config, middlewares }) {
      const folder = resolve(config.root, config.build.outDir);
      middlewares.use((request, response, next) => {
        const path = request.url ?? '';
        const kind = SCRIPT_OR_STYLE.exec(path)?.[1];
        const takes = request.headers['accept-encoding']?.includes('gzip');
        const file = join(folder, path);
        if (request.method !== 'GET' || kind === undefined || !takes || !existsSync(file)) return next();
        response.writeHead(200, {
          'content-type': kind === 'js' ? 'text/javascript' : 'text/css',
          'content-encoding': 'gzip',
          vary: 'accept-encoding',
          // Their names change with their content.
          'cache-control': 'max-age=31536000, immutable',
        });
        response.end(gzipSync(readFileSync(file)));
      });
    },
  };
}
