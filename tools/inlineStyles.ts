import type { Plugin } from 'vite';

/** The start page carries its style sheet inside it: the first screen then waits for one request less. Sheets of later screens stay files. */
export function inlineStyles(): Plugin {
  return {
    name: 'inline-styles',
    enforce: 'post',
    apply: 'build',
    transformIndexHtml: {
      order: 'post',
      handler: (html, { bundle = {} }) =>
        html.replace(/<link rel="stylesheet"[^>]*href="\.\/([^"]+)"[^>]*>/g, (link, name: string) => {
          const sheet = bundle[name];
          if (sheet?.type !== 'asset') return link;
          delete bundle[name];
          return `<style>${sheet.source}</style>`;
        }),
    },
  };
}
