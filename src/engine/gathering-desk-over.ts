/** The gathering part of the desk: the bench, as screens ask it. */
import { GatherBench, type BenchSurroundings } from './gather-bench';
import type { GatheringDesk } from './gathering-desk';

export function gatheringDesk(around: BenchSurroundings): GatheringDesk {
  const bench = new GatherBench(around);
  return {
    bench: async (ask, open = false) => {
      if (open) await bench.open();
      return bench.view(ask);
    },
    step: async (step) => bench.step(step),
    piece: async (id) => bench.whole(id),
    gather: async (files) => bench.gather(files),
    stop: async () => bench.stop(),
    forgetWaiting: async () => void (await bench.forgetWaiting()),
    columns: async (file) => bench.columns(file),
    tellColumns: async (file, columns) => bench.tellColumns(file, columns),
    all: async () => bench.gatherings(),
    lookAt: async (id) => bench.lookAt(id),
    takeBack: async (id, keep) => {
      await around.ready();
      return bench.takeBack(id, keep);
    },
  };
}
