/** Settles a large neighbourhood apart from the screen and from the desk, so that neither waits; it is shown when it has come to rest. */
import { settledPlaces, type LayingInput } from '../../engine/laying';

self.onmessage = (event: MessageEvent<{ turn: number; input: LayingInput }>): void => {
  const { turn, input } = event.data;
  self.postMessage({ turn, places: settledPlaces(input) });
};
