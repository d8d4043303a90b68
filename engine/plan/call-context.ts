// What library functions are told of the notebook they run in.

import type { CallContext } from '../library/signature.ts';
import type { Place } from '../notebook/notebook.ts';

export interface CallContextSource {
  readonly context: CallContext;
}

export function callContext(
  place: Place | undefined,
  textOf: (id: number) => string,
): CallContextSource {
  return {
    context: {
      latitude: place?.latitude ?? Number.NaN,
      longitude: place?.longitude ?? Number.NaN,
      altitude: place?.altitude ?? Number.NaN,
      offset: place?.offset ?? Number.NaN,
      textOf,
      problem: '',
      code: 'out-of-range',
    },
  };
}
