/** The forms a book is read in, as every page of the reading place names them. */
import type { Reading } from '../../journal/records';

export const FORMS = ['print', 'ebook', 'audio'] as const satisfies readonly Reading['form'][];
export const FORM_NAMES: Record<Reading['form'], string> = {
  print: 'Print',
  ebook: 'Screen',
  audio: 'By ear',
};

/** "4½ of 5"; half steps as a fraction. */
export function ratingSaid(rating: number): string {
  const whole = Math.floor(rating);
  return `${whole > 0 ? whole : ''}${rating % 1 ? '½' : ''}`;
}
