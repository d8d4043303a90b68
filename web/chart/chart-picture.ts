// A chart as a picture to keep: one SVG that needs nothing beside it, put together from what stands
// on the page, and the same as a PNG at twice its size. Colours, strokes and letters are written into
// every element, since a file has no style sheet.

const SVG = 'http://www.w3.org/2000/svg';
const MARGIN = 12;
const TITLE = 30;
const TITLE_LINE = 20;
const TITLE_WEIGHT = 650;
/** The page's own letters, which no other program has. */
const FONT = 'Atkinson Hyperlegible Next';
const FONTS = `${FONT}, Segoe UI, Roboto, Helvetica Neue, Arial, sans-serif`;

/**
 * The page's letters as a rule that a drawing carries with it; nothing where they cannot be had. A
 * drawing that is shown as a picture may not fetch any.
 */
export async function ownLetters(): Promise<string> {
  const file = new URL('../theme/fonts/atkinson-next.woff2', import.meta.url);
  try {
    const answer = await fetch(file);
    if (!answer.ok) return '';
    const bytes = new Uint8Array(await answer.arrayBuffer());
    const packed = btoa(Array.from(bytes, (byte) => String.fromCharCode(byte)).join(''));
    return `@font-face{font-family:"${FONT}";font-weight:400 700;src:url(data:font/woff2;base64,${packed}) format("woff2")}`;
  } catch {
    return '';
  }
}

/** Where the letters are others after all, they take the room that these have on the page. */
function keepRoom(text: SVGElement, width: number): void {
  if (width === 0) return;
  text.setAttribute('textLength', String(Math.round(width * 10) / 10));
  text.setAttribute('lengthAdjust', 'spacingAndGlyphs');
}

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
    if (target instanceof SVGElement && element.childElementCount === 0)
      keepRoom(target, element.getComputedTextLength());
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

interface Place {
  readonly x: number;
  readonly y: number;
  /** How wide the words are on the page; 0 where they do not stand on it. */
  readonly width: number;
}

function words(text: string, { x, y, width }: Place, look: CSSStyleDeclaration): SVGElement {
  const made = shape('text', {
    x,
    y,
    fill: look.color,
    'font-family': FONTS,
    'font-size': look.fontSize,
    'font-weight': look.fontWeight,
  });
  made.textContent = text;
  keepRoom(made, width);
  return made;
}

/** A title in as many lines as it needs, each as wide as it would be on the page. */
function titleLines(
  title: string,
  room: number,
  look: CSSStyleDeclaration,
): readonly { readonly text: string; readonly width: number }[] {
  const measure = document.createElement('canvas').getContext('2d');
  if (measure) measure.font = `${TITLE_WEIGHT} ${look.fontSize} ${look.fontFamily}`;
  const widthOf = (text: string): number => measure?.measureText(text).width ?? 0;
  const lines: string[] = [];
  for (const word of title.split(/\s+/u)) {
    const last = lines.at(-1);
    const longer = `${last} ${word}`;
    if (last !== undefined && widthOf(longer) <= room) lines[lines.length - 1] = longer;
    else lines.push(word);
  }
  return lines.map((text) => ({ text, width: Math.min(room, widthOf(text)) }));
}

/**
 * Puts a chart together as one drawing: its title, its panels, and the names beside them. `letters` is
 * what `ownLetters` gave.
 */
export function pictureOf(
  frame: Element,
  title: string,
  spoken: string,
  letters: string,
): SVGElement {
  const box = frame.getBoundingClientRect();
  const ink = getComputedStyle(frame);
  const headings = titleLines(title, box.width, ink);
  const head = TITLE + TITLE_LINE * (headings.length - 1);
  const width = Math.ceil(box.width) + 2 * MARGIN;
  const height = Math.ceil(box.height) + 2 * MARGIN + head;
  const whole = shape('svg', { xmlns: SVG, width, height, viewBox: `0 0 ${width} ${height}` });
  const root = getComputedStyle(document.documentElement);
  const paper = root.getPropertyValue('--strip').trim();
  const name = shape('title', {});
  name.textContent = title;
  const described = shape('desc', {});
  described.textContent = spoken;
  const style = shape('style', {});
  style.textContent = letters;
  whole.append(name, described, style, shape('rect', { width, height, fill: paper }));
  headings.forEach((line, index) => {
    const y = MARGIN + 16 + TITLE_LINE * index;
    const heading = words(line.text, { x: MARGIN, y, width: line.width }, ink);
    heading.setAttribute('font-weight', String(TITLE_WEIGHT));
    whole.append(heading);
  });
  const left = (at: DOMRect): number => at.left - box.left + MARGIN;
  const top = (at: DOMRect): number => at.top - box.top + MARGIN + head;
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
      const y = top(line.at) + line.at.height / 2 + size * 0.35;
      const width = line.right - line.at.left;
      whole.append(words(line.text, { x: left(line.at), y, width }, look));
    }
  }
  return whole;
}

interface Line {
  readonly text: string;
  /** Where its first word stands. */
  readonly at: DOMRect;
  readonly right: number;
}

/** The lines that a text was broken into on the page. */
function linesOf(said: Element): readonly Line[] {
  const lines: { text: string; at: DOMRect; right: number }[] = [];
  const texts = document.createNodeIterator(said, NodeFilter.SHOW_TEXT);
  for (let node = texts.nextNode(); node; node = texts.nextNode()) {
    const text = node.textContent ?? '';
    for (const word of text.matchAll(/\S+/gu)) {
      const range = document.createRange();
      range.setStart(node, word.index);
      range.setEnd(node, word.index + word[0].length);
      const at = range.getBoundingClientRect();
      const last = lines.at(-1);
      if (last && Math.abs(last.at.top - at.top) < 3) {
        last.text += ` ${word[0]}`;
        last.right = at.right;
      } else lines.push({ text: word[0], at, right: at.right });
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
