import { mkdir } from 'node:fs/promises';
import { join } from 'node:path';
import { publishGuide } from '../../engine/publishing';
import { asked, circleNamed, headingNamed, open } from '../asked';
import { saveWhole } from '../journal-on-disk';
import type { Told } from '../told';
import { facesFromPackages } from '../printing';
import { planLines } from './plan';

const DEMO = 'demo-data/harbour-lane.bookweft.json';
const OUT = 'out';

/** A first look: a guide from the demo journal as leader's copy and handout, and what to try next. */
export async function run(args: string[]): Promise<Told> {
  const ask = asked(['--journal', DEMO, ...args], {});
  const engine = await open(ask.path);
  const composed = engine.compose({
    focus: {
      words: [],
      headings: [
        { heading: headingNamed(engine, 'Learning to read', 'theme').id },
        { heading: headingNamed(engine, 'Frankenstein', 'book').id },
        { heading: headingNamed(engine, 'Narrative of the Life of Frederick Douglass', 'book').id },
      ],
      entries: [],
    },
    circle: circleNamed(engine, 'Harbour Lane').id,
    minutes: 90,
    title: 'Who is allowed to learn?',
  });
  await mkdir(OUT, { recursive: true });
  const files: string[] = [];
  for (const copy of ['leader', 'handout'] as const) {
    const how = { format: 'html', copy, paper: 'A4' } as const;
    const file = await publishGuide(engine, composed.guide, how, facesFromPackages, composed.late);
    const path = join(OUT, file.name);
    await saveWhole(path, new Uint8Array(file.bytes));
    files.push(path);
  }
  const text = [
    ...planLines(composed),
    '',
    'Printed both ways; open them in a browser:',
    ...files.map((path) => `  ${path}`),
    '',
    'To try next:',
    `  npm run bookweft -- find courage --journal ${DEMO}`,
    `  npm run bookweft -- tied Courage --narrower --journal ${DEMO}`,
    `  npm run bookweft -- chain "The Secret Garden" Frankenstein --journal ${DEMO}`,
    `  npm run bookweft -- plan --theme Home --minutes 60 --out guide.html --journal ${DEMO}`,
  ].join('\n');
  return { answer: { ...composed.answer, files }, text };
}
