// Words of a notebook as elements. Two marks are known: *emphasis*, and links, bare or as
// [words](https://…). Everything else stands as it was written; no markup is ever parsed as HTML.

import { html, type TemplateResult } from 'lit';

const MARK =
  /\*([^*\s](?:[^*]*[^*\s])?)\*|\[([^\]]+)\]\((https?:\/\/[^\s)]+)\)|(https?:\/\/[^\s)]+)/g;

/** The pieces of a paragraph, in order. */
export function proseParts(text: string): (string | TemplateResult)[] {
  const parts: (string | TemplateResult)[] = [];
  let from = 0;
  for (const found of text.matchAll(MARK)) {
    if (found.index > from) parts.push(text.slice(from, found.index));
    from = found.index + found[0].length;
    const [whole, emphasis, words, address] = found;
    if (emphasis !== undefined) parts.push(html`<em>${emphasis}</em>`);
    else {
      const href = address ?? whole;
      parts.push(
        html`<a href=${href} rel="noopener noreferrer" target="_blank">${words ?? href}</a>`,
      );
    }
  }
  if (from < text.length) parts.push(text.slice(from));
  return parts;
}
