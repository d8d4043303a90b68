// The word that tells an address that carries a notebook from one that names one.

/** What the address of a carried notebook begins with, after `#/`. */
export const CARRIED = 'carried/';
