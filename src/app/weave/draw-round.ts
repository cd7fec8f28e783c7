/** Drawing a line round things of a map with a pointer. */
import type { Corner } from './map-scene';

interface RoundEvents {
  /** The line as it now is, in pixels of the field; empty once it is done. */
  drawn: (corners: readonly Corner[]) => void;
  /** The line was ended; without corners it was broken off, or too short to go round anything. */
  done: (corners: readonly Corner[] | undefined) => void;
}

/**
 * Follows the pointer that was pressed on `field` until it is let go. Nothing of it reaches the map under the line, which would move or let go of
 * what is chosen.
 */
export function drawRound(
  field: HTMLElement,
  event: PointerEvent,
  { drawn, done }: RoundEvents,
): void {
  event.preventDefault();
  event.stopPropagation();
  const box = field.getBoundingClientRect();
  const at = (one: PointerEvent): Corner => [one.clientX - box.left, one.clientY - box.top];
  let line: readonly Corner[] = [at(event)];
  drawn(line);
  const own = new AbortController();
  const { signal } = own;
  const move = (one: PointerEvent): void => {
    if (one.pointerId === event.pointerId) drawn((line = [...line, at(one)]));
  };
  const end = (one: PointerEvent): void => {
    if (one.pointerId !== event.pointerId) return;
    own.abort();
    const round = line.length > 3 && one.type === 'pointerup';
    done(round ? line : undefined);
    if (round) holdClick(field);
    drawn([]);
  };
  window.addEventListener('pointermove', move, { signal });
  window.addEventListener('pointerup', end, { signal });
  window.addEventListener('pointercancel', end, { signal });
}

/** The press that ends a line comes as a click too, which the map must not have. */
function holdClick(field: HTMLElement): void {
  const still = (click: MouseEvent): void => click.stopPropagation();
  field.addEventListener('click', still, { capture: true, once: true });
  setTimeout(() => field.removeEventListener('click', still, { capture: true }), 50);
}
