/** How sure a proposal of the program is. The reader decides; nothing proposed counts as theirs until they say so. */
export type Certainty = 'guess' | 'likely' | 'sure';

/** From least to most sure. */
export const CERTAINTIES: readonly Certainty[] = ['guess', 'likely', 'sure'];
