// A chart as a picture to keep: one SVG that needs nothing beside it, put together from what stands
// on the page, and the same as a PNG at twice its size. Colours, strokes and letters are written into
// every element, since a file has no style sheet.

const SVG = 'http://www.w3.org/2000/svg';
const MARGIN = 12;
const TITLE = 30;
const FONTS = 'Atkinson Hyperlegible Next, Segoe UI, Roboto, Helvetica Neue, Arial, sans-serif';

/** What decides how a shape looks. */
const LOOKS = [
  'fill',
  'fill-opacity',
  'stroke',
  'stroke-width',
  'stroke-opacity',
  'stroke-dasharray',
  'stroke-linecap',
  'stroke-linejoin',
  'opacity',
] as const;
const LETTERS = ['font-size', 'font-weight', 'text-anchor'] as const;

/** A copy of a drawing with its looks written into it and nothing that a hand or a reader needs. */
export function withLooks(drawn: SVGElement): SVGElement {
  const copy = drawn.cloneNode(true);
  if (!(copy instanceof SVGElement)) throw new RangeError('a copy of a drawing is one');
  const [from, to] = [drawn.querySelectorAll('*'), copy.querySelectorAll('*')];
  from.forEach((element, index) => {
    const target = to[index];
    if (!target) return;
    const style = getComputedStyle(element);
    for (const name of ['class', 'style', 'tabindex', 'role', 'aria-label', 'aria-roledescription'])
      target.removeAttribute(name);
    for (const name of LOOKS) target.setAttribute(name, style.getPropertyValue(name));
    if (!(element instanceof SVGTextElement)) return;
    for (const name of LETTERS) target.setAttribute(name, style.getPropertyValue(name));
    target.setAttribute('font-family', FONTS);
  });
  // Comments are the page's own marks, and grips are for the hand.
  const marks = document.createNodeIterator(copy, NodeFilter.SHOW_COMMENT);
  for (let mark = marks.nextNode(); mark; mark = marks.nextNode())
    mark.parentNode?.removeChild(mark);
  for (const grip of copy.querySelectorAll('[data-grip]')) grip.remove();
  return copy;
}

function shape(name: string, attributes: Readonly<Record<string, string | number>>): SVGElement {
  const made = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, String(value));
  return made;
}

function words(text: string, x: number, y: number, look: CSSStyleDeclaration): SVGElement {
  const made = shape('text', {
    x,
    y,
    fill: look.color,
    'font-family': FONTS,
    'font-size': look.fontSize,
    'font-weight': look.fontWeight,
  });
  made.textContent = text;
  return made;
}

/** Puts a chart together as one drawing: its title, its panels, and the names beside them. */
export function pictureOf(frame: Element, title: string, spoken: string): SVGElement {
  const box = frame.getBoundingClientRect();
  const width = Math.ceil(box.width) + 2 * MARGIN;
  const height = Math.ceil(box.height) + 2 * MARGIN + TITLE;
  const whole = shape('svg', { xmlns: SVG, width, height, viewBox: `0 0 ${width} ${height}` });
  const root = getComputedStyle(document.documentElement);
  const paper = root.getPropertyValue('--strip').trim();
  const ink = getComputedStyle(frame);
  const name = shape('title', {});
  name.textContent = title;
  const described = shape('desc', {});
  described.textContent = spoken;
  const heading = words(title, MARGIN, MARGIN + 16, ink);
  heading.setAttribute('font-weight', '650');
  whole.append(name, described, shape('rect', { width, height, fill: paper }), heading);
  const left = (at: DOMRect): number => at.left - box.left + MARGIN;
  const top = (at: DOMRect): number => at.top - box.top + MARGIN + TITLE;
  for (const drawn of frame.querySelectorAll('svg')) {
    const at = drawn.getBoundingClientRect();
    if (at.width === 0) continue;
    const copy = withLooks(drawn);
    for (const attribute of [...copy.attributes]) {
      if (attribute.name !== 'viewBox') copy.removeAttribute(attribute.name);
    }
    for (const [key, value] of Object.entries({
      x: left(at),
      y: top(at),
      width: at.width,
      height: at.height,
      overflow: 'visible',
    }))
      copy.setAttribute(key, String(value));
    whole.append(copy);
  }
  for (const said of frame.querySelectorAll('[data-words]')) {
    const look = getComputedStyle(said);
    for (const line of linesOf(said)) {
      const size = Number.parseFloat(look.fontSize);
      const base = top(line.at) + line.at.height / 2 + size * 0.35;
      whole.append(words(line.text, left(line.at), base, look));
    }
  }
  return whole;
}

interface Line {
  readonly text: string;
  readonly at: DOMRect;
}

/** The lines that a text was broken into on the page. */
function linesOf(said: Element): readonly Line[] {
  const lines: { text: string; at: DOMRect }[] = [];
  const texts = document.createNodeIterator(said, NodeFilter.SHOW_TEXT);
  for (let node = texts.nextNode(); node; node = texts.nextNode()) {
    const text = node.textContent ?? '';
    for (const word of text.matchAll(/\S+/gu)) {
      const range = document.createRange();
      range.setStart(node, word.index);
      range.setEnd(node, word.index + word[0].length);
      const at = range.getBoundingClientRect();
      const last = lines.at(-1);
      if (last && Math.abs(last.at.top - at.top) < 3) last.text += ` ${word[0]}`;
      else lines.push({ text: word[0], at });
    }
  }
  return lines;
}

export function pictureText(whole: SVGElement): string {
  return `<?xml version="1.0" encoding="UTF-8"?>\n${new XMLSerializer().serializeToString(whole)}\n`;
}

/** How many of the PNG's points go on one of the page's. */
const SCALE = 2;

export async function pictureToPng(whole: SVGElement): Promise<Blob> {
  const address = URL.createObjectURL(new Blob([pictureText(whole)], { type: 'image/svg+xml' }));
  try {
    const image = new Image();
    image.src = address;
    await image.decode();
    const canvas = document.createElement('canvas');
    canvas.width = Number(whole.getAttribute('width')) * SCALE;
    canvas.height = Number(whole.getAttribute('height')) * SCALE;
    canvas.getContext('2d')?.drawImage(image, 0, 0, canvas.width, canvas.height);
    return await new Promise((done, failed) => {
      canvas.toBlob((blob) => {
        if (blob) done(blob);
        else failed(new RangeError('The picture could not be made.'));
      }, 'image/png');
    });
  } finally {
    URL.revokeObjectURL(address);
  }
}
