import { readFileSync } from 'node:fs';

const DOCS = new URL('../../docs/', import.meta.url);

/** The JSON examples of the written description, in its order, with the heading each stands under. */
export function wheelFileExamples(): readonly { readonly heading: string; readonly text: string }[] {
  const lines = wheelFileText().split('\n');
  const examples: { heading: string; text: string }[] = [];
  let heading = '';
  let open: string[] | undefined;
  for (const line of lines) {
    if (line.startsWith('#') && !open) heading = line.replace(/^#+ /, '');
    if (line === '```json') open = [];
    else if (line === '```' && open) {
      examples.push({ heading, text: open.join('\n') });
      open = undefined;
    } else open?.push(line);
  }
  return examples;
}

export const wheelFileSchemaText = (): string => readFileSync(new URL('wheel-file.schema.json', DOCS), 'utf8');
export const wheelFileText = (): string => readFileSync(new URL('wheel-file.md', DOCS), 'utf8');
