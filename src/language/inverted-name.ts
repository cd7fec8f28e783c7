/** Particles that stay with the family name when they are written small or large, in an English catalogue (common practice). */
const PARTICLES = new Set(
  'de la le du des van von der den di da della del dos ter ten st saint mac ap ibn bin el al'.split(
    ' ',
  ),
);
const SUFFIX = /^(?:jr|sr|junior|senior|esq|phd|md|i{2,3}|iv|vi{0,3})\.?$/i;

/**
 * A personal name with its family name first, as an index of authors has it: "Le Guin, Ursula K.", "King, Martin Luther, Jr."
 * A guess by common practice for names in the order given name, family name; names of other orders, and those of one word
 * or with a comma already, are left as they are. A reader's own filing name counts before it.
 */
export function invertedName(name: string): string {
  const trimmed = name.trim().replace(/\s+/g, ' ');
  const words = trimmed.split(' ');
  if (trimmed.includes(',') || words.length < 2) return trimmed;
  const suffix = words.length > 2 && SUFFIX.test(words.at(-1) ?? '') ? words.pop() : undefined;
  let family = words.length - 1;
  while (family > 1 && PARTICLES.has((words[family - 1] ?? '').toLowerCase().replace(/\.$/, '')))
    family -= 1;
  const given = words.slice(0, family).join(' ');
  return [words.slice(family).join(' '), given, ...(suffix ? [suffix] : [])].join(', ');
}
