// Sending a notebook: as a link that carries all of it, as a picture of that link, through another
// program of the device, or as a file. Nothing goes to a server; the reader hands it over.

import '../theme/send.css';
import { html, type TemplateResult } from 'lit';
import { fileName } from '../keep/files.ts';
import type { OpenDialog } from '../parts/page-tools.ts';
import { icon } from '../parts/shapes.ts';
import { EASY_PICTURE, linkPicture, linkPictureView } from './link-picture.ts';
import { LARGEST_CARRIED, linkOf } from './notebook-link.ts';

/** Some programs cut longer links, letters. */
const LONG_LINK = 2_000;

export interface SendContext {
  readonly title: string;
  readonly text: string;
  readonly saveFile: () => void;
  readonly draw: () => void;
  readonly closed: () => void;
}

function shut(event: Event): void {
  if (event.target instanceof Element) event.target.closest('dialog')?.close();
}

/** Makes the link, then the dialog that offers it. */
export async function sendDialog(context: SendContext): Promise<OpenDialog> {
  const fits = new Blob([context.text]).size <= LARGEST_CARRIED;
  const link = fits ? await linkOf(location.href, context.text) : undefined;
  const picture = link === undefined ? undefined : linkPicture(link);
  const file = new File([context.text], fileName(context.title, '.txt'), { type: 'text/plain' });
  let told = '';
  const tell = (words: string): void => {
    told = words;
    context.draw();
  };
  const copy = async (event: Event): Promise<void> => {
    const field = event.target instanceof Element ? event.target.closest('dialog') : null;
    const input = field?.querySelector<HTMLInputElement>('#link-field');
    try {
      await navigator.clipboard.writeText(link ?? '');
      tell('Copied.');
    } catch {
      input?.select();
      tell('The browser did not let it be copied: the link is marked, copy it by hand.');
    }
  };
  const share = async (data: ShareData): Promise<void> => {
    try {
      await navigator.share(data);
    } catch (reason) {
      if (reason instanceof DOMException && reason.name === 'AbortError') return;
      tell('The other program did not take it.');
    }
  };
  const shared: readonly (readonly [string, ShareData])[] = [
    ['Hand the link to a program', { title: context.title, url: link ?? '' }],
    ['Hand the file to a program', { title: context.title, files: [file] }],
  ];
  const offers = shared.filter(
    ([, data]) =>
      'share' in navigator &&
      data.url !== '' &&
      typeof navigator.canShare === 'function' &&
      navigator.canShare(data),
  );

  const linkView = (
    whole: string,
  ): TemplateResult => html`<label class="link-line"><span>Link</span>
      <input id="link-field" type="text" readonly .value=${whole} @focus=${(event: Event): void => {
        if (event.target instanceof HTMLInputElement) event.target.select();
      }} /></label>
    <p class="act"><button class="btn2 fill" autofocus @click=${copy}>Copy the link</button>
      ${offers.map(([label, data]) => html`<button class="btn2" @click=${(): void => void share(data)}>${label}</button>`)}
      <button class="btn2" @click=${(event: Event): void => {
        shut(event);
        context.saveFile();
      }}>Save a file</button></p>
    <p class="told" role="status">${told}</p>
    <p class="hint">${whole.length.toLocaleString('en')} letters.${
      whole.length > LONG_LINK
        ? ' Some programs cut so long a link; whoever opens it is told when that happened. A file always arrives whole.'
        : ''
    }</p>
    ${
      picture
        ? html`<figure>${linkPictureView(picture)}<figcaption>For a camera.${
            whole.length > EASY_PICTURE ? ' The squares are fine: hold the camera close.' : ''
          }</figcaption></figure>`
        : html`<p class="hint">Too long for a picture that a camera could read.</p>`
    }`;

  const view =
    (): TemplateResult => html`<dialog id="send" class="dialog reading send" aria-labelledby="send-title" @close=${context.closed}>
    <div class="top"><h2 id="send-title">Send</h2>
      <button class="close" aria-label="Close" @click=${shut}>${icon('close')}</button></div>
    <p>The link holds the whole notebook as it is now: words, readings and place too. No server keeps it. Who opens it gets a
      copy of their own.</p>
    ${
      link === undefined
        ? html`<p>This notebook is too large for a link.</p><p class="act"><button class="btn2 fill" @click=${(
            event: Event,
          ): void => {
            shut(event);
            context.saveFile();
          }}>Save a file</button></p>`
        : linkView(link)
    }</dialog>`;
  return { selector: '#send', view };
}
