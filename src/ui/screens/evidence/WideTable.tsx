import type { ComponentChildren } from 'preact';

/** A table that may be wider than the screen: it scrolls by itself, by touch and by keys. */
export const WideTable = ({ label, children }: { readonly label: string; readonly children: ComponentChildren }) => (
  // biome-ignore lint/a11y/noNoninteractiveTabindex: a table wider than the screen must scroll by keys
  <section class="table-frame" aria-label={label} tabIndex={0}>
    {children}
  </section>
);
