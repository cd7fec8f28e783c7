/** What can be done in Plan with a guide, and with the circles it is for, for the palette. */
import type { Action, House } from '../house.svelte';
import type { PlanState } from './plan.svelte';

/** What can be done without a guide, and what only with one that is no template and lies open. */
const ALWAYS = ['compose', 'new-guide'];
const OPEN = ['series', 'template'];

/** `open` opens the sheets of the place. What is answered depends on the guide that lies open. */
export function guideActions(
  house: House,
  plan: PlanState,
  open: Record<'print' | 'met' | 'series' | 'circle', () => void>,
): () => Action[] {
  const actions: Action[] = [
    {
      id: 'compose',
      says: 'Compose the guide',
      words: 'plan again',
      run: () => void plan.compose(),
    },
    {
      id: 'print',
      says: 'Print the guide',
      keys: 'P',
      run: open.print,
    },
    {
      id: 'run',
      says: 'Run the meeting',
      run: () => plan.guide && house.go({ place: 'plan', open: 'run', id: plan.guide.id }),
    },
    {
      id: 'met',
      says: 'Keep what happened at the meeting',
      words: 'met asked',
      run: open.met,
    },
    {
      id: 'series',
      says: 'Make a series of meetings over a book',
      words: 'chapters schedule parts',
      run: open.series,
    },
    {
      id: 'template',
      says: 'Keep the guide as a template',
      words: 'copy pattern',
      run: () => plan.guide && void house.tell(house.desk.printing.keepTemplate(plan.guide.id)),
    },
    {
      id: 'new-guide',
      says: 'Begin another guide',
      run: () => house.go({ place: 'plan', open: 'new' }),
    },
  ];
  return () => {
    const { guide } = plan;
    const lies = guide && !guide.template && house.route.open === 'guide';
    return [
      ...actions.filter(({ id }) => ALWAYS.includes(id) || (OPEN.includes(id) ? lies : guide)),
      ...plan.circles.map(({ id, name }): Action => ({
        id: `circle-${id}`,
        says: `Open the circle ${name}`,
        words: 'class pupils meetings met',
        run: () => house.go({ place: 'plan', open: 'circle', id }),
      })),
      { id: 'circle-new', says: 'Make a circle', words: 'class pupils new', run: open.circle },
    ];
  };
}
