/** What stands under a field in which a date is typed. */
import { dateAsTyped, dateTyped } from '../../engine/dates-typed';

/** The date that was understood, in words; '' where what was typed says it itself, or is no date. */
export function readAs(typed: string): string {
  const date = dateTyped(typed);
  const words = date.ok ? dateAsTyped(date.edtf) : '';
  return words.toLowerCase() === typed.trim().toLowerCase() ? '' : words;
}
