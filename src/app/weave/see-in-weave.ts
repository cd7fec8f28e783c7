import type { HeadingId } from '../../journal/records';
import type { MapState } from './map.svelte';
import type { WeaveState } from './weave.svelte';

/**
 * Shows a heading or an entry where it lies in the weave: a book or a theme as its whole thread, and what is no thread of the cloth in the middle of
 * a map. Answers false, and shows nothing else, where the journal does not have it.
 */
export async function seeInWeave(weave: WeaveState, map: MapState, id: string): Promise<boolean> {
  const side = weave.chooseHeading(id as HeadingId);
  if (side) {
    weave.side = side;
    if (weave.showing !== 'table') weave.showing = 'cloth';
    return true;
  }
  const alone = await weave.desk.weave.neighbourhood({ roots: [id], kinds: [] });
  const [thing] = alone.nodes;
  if (!thing) return false;
  map.around([thing]);
  weave.showing = 'map';
  return true;
}
