/**
 * The command line: reads words from the terminal, asks the engine, prints for people or as JSON.
 * It holds no rules of the trade and no formats; each command is one file in `commands`.
 */
import { Refusal } from './refusal';
import type { Command } from './told';
import { usage } from './usage';

/** Loaded one at a time, so that a command starts with only what it needs. */
const COMMANDS: Record<string, () => Promise<{ run: Command }>> = {
  gather: () => import('./commands/gather'),
  find: () => import('./commands/find'),
  near: () => import('./commands/near'),
  tied: () => import('./commands/tied'),
  strands: () => import('./commands/strands'),
  chain: () => import('./commands/chain'),
  plan: () => import('./commands/plan'),
  met: () => import('./commands/met'),
  copy: () => import('./commands/copy'),
  series: () => import('./commands/series'),
  challenge: () => import('./commands/challenge'),
  figures: () => import('./commands/figures'),
  check: () => import('./commands/check'),
  publish: () => import('./commands/publish'),
  tour: () => import('./commands/tour'),
};

async function run(args: string[]): Promise<number> {
  const [name, ...rest] = args;
  if (!name || name === 'help' || args.includes('--help')) {
    process.stdout.write(usage());
    return name ? 0 : 2;
  }
  const load = Object.hasOwn(COMMANDS, name) ? COMMANDS[name] : undefined;
  if (!load)
    throw new Refusal('unknown-command', `There is no command “${name}”; try: bookweft help.`);
  const told = await (await load()).run(rest.filter((word) => word !== '--json'));
  const json = rest.includes('--json');
  process.stdout.write(json ? `${JSON.stringify(told.answer, null, 2)}\n` : `${told.text}\n`);
  return told.exit ?? 0;
}

process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code === 'EPIPE') process.exit(0);
  throw error;
});

run(process.argv.slice(2)).then(
  (code) => {
    process.exitCode = code;
  },
  (error: unknown) => {
    const said =
      error instanceof Refusal
        ? error.message
        : `This should not have happened, and nothing was written: ${error instanceof Error ? (error.stack ?? error.message) : String(error)}`;
    process.stderr.write(`bookweft: ${said}\n`);
    process.exitCode = 2;
  },
);
