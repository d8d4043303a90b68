// A link as a picture that a camera reads (a QR code, ISO/IEC 18004). The library says which squares
// are dark; the picture is drawn here, as one path.

import { correction, generate } from 'lean-qr';
import { html, type TemplateResult } from 'lit';

/** The most letters the largest picture holds, at the lowest correction. */
export const LONGEST_PICTURE = 2_953;
/** Beyond this the squares are too fine for some cameras. */
export const EASY_PICTURE = 1_000;
/** Squares left empty round the picture, as the standard wants. */
const QUIET = 4;

export interface LinkPicture {
  /** Squares on one side, the quiet ones included. */
  readonly size: number;
  /** One path over all dark squares. */
  readonly path: string;
}

/** The dark squares of a text; undefined when it does not fit. */
export function linkPicture(text: string): LinkPicture | undefined {
  if (text.length > LONGEST_PICTURE) return undefined;
  const squares = generate(text, { minCorrectionLevel: correction.L });
  let path = '';
  for (let y = 0; y < squares.size; y++) {
    for (let x = 0; x < squares.size; x++) {
      if (!squares.get(x, y)) continue;
      const from = x;
      while (squares.get(x + 1, y)) x++;
      path += `M${from + QUIET} ${y + QUIET}h${x - from + 1}v1h-${x - from + 1}z`;
    }
  }
  return { size: squares.size + 2 * QUIET, path };
}

export function linkPictureView(picture: LinkPicture): TemplateResult {
  return html`<svg class="qr" viewBox=${`0 0 ${picture.size} ${picture.size}`} shape-rendering="crispEdges" role="img"
    aria-label="The link as a picture for a camera"><rect width=${picture.size} height=${picture.size}></rect><path d=${picture.path}></path></svg>`;
}
