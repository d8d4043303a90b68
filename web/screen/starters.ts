// The starter notebooks that come with the page. The first page shows only what stands here; the
// text of a notebook is fetched when it is opened.

const TEXTS = import.meta.glob<string>('../../notebooks/*.dapple', {
  query: '?raw',
  import: 'default',
});

export interface Starter {
  /** The file's name without its ending: `cool-box`. It is also the address. */
  readonly id: string;
  /** `Cool box` */
  readonly name: string;
  /** As in the notebook. */
  readonly title: string;
  /** The first sentence of the notebook's prose. */
  readonly line: string;
}

function starter(id: string, title: string, line: string): Starter {
  const words = id.replaceAll('-', ' ');
  return { id, name: words.charAt(0).toUpperCase() + words.slice(1), title, line };
}

/** Reading order: each question builds on the one before. */
export const STARTERS: readonly Starter[] = [
  starter(
    'harvest',
    'What one day gives under the pines',
    "For anyone who lays a panel where trees leave only a window of sky: follow one day's light from the sun to the battery's terminals.",
  ),
  starter(
    'battery',
    'How long the battery lasts',
    'For whoever asks "is our battery big enough?": list what hangs on it, say what the sun brings, and read how low it falls and when.',
  ),
  starter(
    'cable',
    'A long cable to the sunny spot',
    'For anyone whose sun is not where the camp is: how thick must the lead be, what protects it, and will the coldest dawn harm the input?',
  ),
  starter(
    'cool-box',
    'What the cool box will draw on hot days',
    'For whoever owns the cool box, the largest load in most camps: run it on your own battery at home for a night and a day, write down what the display said, and scale that to the forecast.',
  ),
  starter(
    'quiet-hours',
    'Quiet hours on the air',
    'For the radio operator whose panel hums: unplug it while listening, or mend the noise?',
  ),
  starter(
    'trial',
    'Reading a trial: what are the sun, the trees and the label worth?',
    'For whoever has a panel, a display and a day to spare: one reading cannot tell the sky from the shade from the label, but three kinds of reading, one after the other, can.',
  ),
  starter(
    'trip',
    'Owl survey, six nights in the pines',
    'For the one in the crew who packs the power: will one panel lying under the pines carry six nights of owl survey?',
  ),
  starter(
    'workshop',
    'Workshop: from a label to a day at camp',
    'For a class, or for one person with a pencil: work from the top, one step to a heading.',
  ),
  starter(
    'tour',
    'A tour of the language',
    'For anyone who will write a notebook of their own: every kind of line and every part of the language stands here once, with a small camp as the example.',
  ),
  starter(
    'rules',
    'Rules of the trade, worked',
    'For whoever wants to see a rule before trusting it: each line is one rule, with its source, on numbers that you change.',
  ),
];

/** The text of a starter; undefined when there is none of that name. */
export async function starterText(id: string): Promise<string | undefined> {
  return TEXTS[`../../notebooks/${id}.dapple`]?.();
}
