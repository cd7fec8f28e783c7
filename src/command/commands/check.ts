import { writeJournalFile } from '../../journal/file';
import { checkAgainstSchema } from '../../journal/schema';
import { asked } from '../asked';
import { loadJournal } from '../journal-on-disk';
import { Refusal } from '../refusal';
import type { Told } from '../told';

/** Checks the file against the schema and the journal's own rules. A file that cannot be read at all is refused with exit 2. */
export async function run(args: string[]): Promise<Told> {
  const { path, words } = asked(args, {});
  if (words.length > 0)
    throw new Refusal('wrong-use', `Name the file as an option: check --journal ${words[0]}`);
  const { journal, problems, text: file, migrated } = await loadJournal(path);
  // The schema is of the present form: a file of an earlier one is checked as it would be saved.
  const whole = migrated === undefined ? file : writeJournalFile(journal);
  const schema = await checkAgainstSchema(JSON.parse(whole) as unknown);
  const all = [...schema, ...problems];
  const told = [
    ...new Map(
      all.map(({ path: at, message }) => [`${at} ${message}`, { path: at, message }]),
    ).values(),
  ];
  const ok = told.length === 0;
  const text = ok
    ? `${path} is sound.${migrated === undefined ? '' : ` It is of an earlier form (version ${migrated}), and is saved in the present one.`}`
    : told.map((problem) => `${problem.path}: ${problem.message}`).join('\n');
  return { answer: { ok, problems: told }, text, exit: ok ? 0 : 2 };
}
