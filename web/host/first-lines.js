// The first lines of the page, run before anything of it is there: the light, the requests for what an
// addressed notebook needs, and the picture of a starter. The picture was drawn when the page was
// built; it stands, untouchable, where the notebook itself will stand once the engine has come. No
// server sees what the address names, so a script looks. Its text is the same in every build, for the
// policy allows it by its sum.
{
  const asked = location.hash.slice(2);
  let light = '';
  // Where nothing can be read it is not known whether the starter was changed here.
  let changed = true;
  try {
    light = localStorage.getItem('dapple.theme') ?? '';
    changed = localStorage.getItem(`dapple.own.${asked}`) !== null;
  } catch {}
  if (!['light', 'dark', 'red'].includes(light))
    light = matchMedia('(prefers-color-scheme: dark)').matches ? 'dark' : 'light';
  document.documentElement.dataset.theme = light;

  /**
   * Shows it, less what the window has no room for, by the widths that stand in it.
   *
   * @param {Element} place
   * @param {string} text
   */
  const show = (place, text) => {
    // In a document of its own first: nothing in it is run or fetched there.
    const apart = new DOMParser().parseFromString(`<body>${text}`, 'text/html');
    place.append(...apart.body.children);
    const [narrow, wide] = place.children;
    if (!(narrow instanceof HTMLTemplateElement && wide instanceof HTMLElement)) return;
    const isNarrow = matchMedia('(max-width: 47.49em)').matches;
    const isBenched = matchMedia('(min-width: 73.75em)').matches;
    const rem = Number.parseFloat(getComputedStyle(document.documentElement).fontSize);
    const least = (isBenched ? wide.dataset.benched : wide.dataset.alone)?.split(' ') ?? [];
    const strips = isNarrow ? 1 : least.filter((one) => innerWidth >= Number(one) * rem).length;
    for (const one of wide.querySelectorAll('[data-col], [data-strip]'))
      if (Number(one.getAttribute('data-col') ?? one.getAttribute('data-strip')) >= strips)
        one.remove();
    const heads = [...wide.querySelectorAll('.vhd')];
    for (const one of heads.slice(strips)) one.remove();
    wide.className = `app strips-${strips} ${isBenched ? 'benched' : ''}`;
    if (!isBenched) wide.querySelector('.bench')?.remove();
    const [screen = '', ...pagers] = narrow.content.children;
    if (isNarrow) {
      const rows = wide.querySelector('.sheet') ?? '';
      place.replaceChildren(screen);
      place.querySelector('.sheet')?.replaceWith(rows);
    } else place.querySelector('.more .link')?.after(pagers[strips - 1] ?? '');
    for (const one of place.querySelectorAll('[data-style]'))
      if (one instanceof HTMLElement) one.style.cssText = one.dataset.style ?? '';
    const title = place.querySelector('textarea');
    if (title) title.value = place.querySelector('h1')?.textContent ?? '';
    const word = place.querySelector('.light-word');
    if (word) word.textContent = wide.dataset[light] ?? '';
  };

  /**
   * Waits until it is known how large the letters are.
   *
   * @returns {Promise<unknown>}
   */
  const styled = () =>
    new Promise((resolve) => {
      const sheet = document.querySelector('link[rel="stylesheet"]');
      if (!(sheet instanceof HTMLLinkElement) || sheet.sheet) resolve(undefined);
      else sheet.addEventListener('load', resolve);
    });

  const pictured = document.querySelector('meta[name="pictured"]')?.getAttribute('content');
  if (!changed && pictured?.split(' ').includes(asked)) {
    fetch(`./first/${asked}.html`, { priority: 'high' })
      .then((answer) => (answer.ok ? answer.text() : ''))
      .then(async (text) => {
        await styled();
        // Gone already once the notebook itself is there.
        const place = document.querySelector('#first');
        if (place && text !== '') show(place, text);
      })
      .catch(() => {});
  }
  if (asked !== '')
    for (const one of document.querySelectorAll('link[data-ahead]'))
      one.setAttribute('rel', 'modulepreload');
}
