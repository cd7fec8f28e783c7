/** Names of people taken apart for bibliographies, which put the family name first. */
import type { PersonHeading } from '../journal/records';
import { invertedName } from '../language/inverted-name';

export type PersonName = { family: string; given: string; suffix?: string } | { literal: string };

/**
 * The parts of a name. A filing name with a comma ("Le Guin, Ursula K.") says them; one without says
 * that the name is not to be turned ("Murasaki Shikibu"). Otherwise they are guessed by common
 * practice; a name of one word, or one like "The Brothers Grimm", stays whole.
 */
export function personName({ name, filing }: Pick<PersonHeading, 'name' | 'filing'>): PersonName {
  const whole = name.trim().replace(/\s+/g, ' ');
  const filed = filing?.trim();
  if (filed && !filed.includes(',')) return { literal: whole };
  if (!filed && /^the\s/i.test(whole)) return { literal: whole };
  const [family = '', given = '', ...suffix] = (filed ?? invertedName(whole))
    .split(',')
    .map((part) => part.trim());
  if (!family || !given) return { literal: whole };
  return { family, given, ...(suffix.length > 0 ? { suffix: suffix.join(', ') } : {}) };
}

/** "Le Guin, Ursula K.", "King, Martin Luther, Jr."; a whole name as it is. */
export function familyFirst(name: PersonName): string {
  if ('literal' in name) return name.literal;
  return [name.family, name.given, ...(name.suffix ? [name.suffix] : [])].join(', ');
}
