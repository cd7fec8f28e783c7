import type { Done } from '../../engine/desk';
import { handOn } from './hand-back';

/** Does what a button is for, where the button goes with its row once that is done; `like` selects the like buttons, this one among them. */
type Pressed = (button: Element, like: string, does: () => Promise<Done>) => Promise<void>;

/**
 * For rows that a button of theirs takes away: once what is `shown` has changed and the button is gone, the hand goes to the like button of the
 * row in its place. To be called while a component begins.
 */
export function handsOn(shown: () => unknown): Pressed {
  let pressed: { button: Element; like: string; row: number } | undefined;
  $effect(() => {
    shown();
    if (!pressed || pressed.button.isConnected) return;
    handOn(pressed.like, pressed.row);
    pressed = undefined;
  });
  return async (button, like, does) => {
    pressed = { button, like, row: [...document.querySelectorAll(like)].indexOf(button) };
    if (!(await does()).ok) pressed = undefined;
  };
}
