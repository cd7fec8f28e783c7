/** What can be done in Gather, for the palette: bringing files, the piece in hand, and the gathering as a whole. */
import { ENTRY_KINDS } from '../../journal/records';
import type { Action } from '../house.svelte';
import { KIND_SAYS } from '../say';
import type { GatherState } from './gather.svelte';
import { sampleNotes } from './samples';
import { ORDERS, SHOWS } from './say-bench';

export function gatherActions(gather: GatherState): Action[] {
  return [...ofPiece(gather), ...ofGathering(gather), ...bringing(gather)];
}

function ofPiece(gather: GatherState): Action[] {
  const left = (): boolean => gather.row?.status === 'left';
  const twin = (): boolean => left() && gather.row?.twin !== undefined;
  const brings = (): boolean => gather.row?.twin?.brings !== undefined;
  const piece = (): boolean => gather.row?.type === 'piece' && gather.row.status !== 'accepted';
  return [
    {
      id: 'gather-accept',
      says: () =>
        !twin()
          ? 'Accept this piece'
          : brings()
            ? 'Add what this piece brings'
            : 'Keep the one that is there',
      keys: 'A',
      when: left,
      run: () => void gather.accept(),
    },
    {
      id: 'gather-wording',
      says: 'Take this wording',
      words: 'twin',
      keys: 'W',
      when: () => twin() && !brings(),
      run: () => void gather.accept(undefined, 'take-wording'),
    },
    {
      id: 'gather-both',
      says: 'Keep both',
      words: 'twin',
      keys: 'B',
      when: twin,
      run: () => void gather.accept(undefined, 'keep-both'),
    },
    {
      id: 'gather-alter',
      says: 'Alter this piece',
      words: 'edit split join words',
      keys: 'E',
      when: () => gather.row !== undefined && gather.row.status !== 'accepted',
      run: () => void gather.alter(),
    },
    {
      id: 'gather-skip',
      says: 'Skip this piece',
      keys: 'S',
      when: left,
      run: () => void gather.skip(),
    },
    {
      id: 'gather-tie',
      says: 'Tie this piece to…',
      words: 'book theme person',
      keys: 'T',
      when: piece,
      run: () => gather.tie(),
    },
    ...ENTRY_KINDS.map((kind, index): Action => ({
      id: `gather-kind-${kind}`,
      says: `Make this piece a ${KIND_SAYS[kind].toLowerCase()}`.replace('a assign', 'an assign'),
      words: 'change kind',
      keys: String(index + 1),
      when: piece,
      run: () => void gather.setKind(kind),
    })),
    {
      id: 'gather-undo',
      says: 'Undo the last thing done on the bench',
      words: 'take back',
      keys: 'Z',
      when: () => gather.inHand && gather.house.undoState.undo !== undefined,
      run: () => void gather.undo(),
    },
  ];
}

function ofGathering(gather: GatherState): Action[] {
  const bench = (): boolean => gather.inHand;
  return [
    {
      id: 'gather-sure',
      says: 'Accept the sure ones',
      words: 'gather all',
      when: bench,
      run: () => void gather.acceptSure(),
    },
    {
      id: 'gather-stop',
      says: 'Stop reading files',
      words: 'pause',
      when: () => gather.reading,
      run: () => void gather.stop(),
    },
    {
      id: 'gather-on',
      says: 'Go on reading files',
      words: 'resume',
      when: () => gather.waiting > 0 && !gather.reading,
      run: () => void gather.gather([]),
    },
    ...SHOWS.map(([show, says]): Action => ({
      id: `gather-show-${show}`,
      says: `Show ${says}`,
      words: 'pieces filter',
      when: () => gather.inHand && gather.show !== show,
      run: () => ((gather.show = show), void gather.relist()),
    })),
    ...ORDERS.map(([order, says]): Action => ({
      id: `gather-order-${order}`,
      says: `In order of ${says}`,
      words: 'sort pieces',
      when: () => gather.inHand && gather.order !== order,
      run: () => ((gather.order = order), void gather.relist()),
    })),
    ...gather.files
      .filter(({ table }) => table)
      .map(({ key, name }): Action => ({
        id: `gather-columns-${key}`,
        says: `Columns of ${name}…`,
        words: 'table',
        run: () => (gather.sheet = { is: 'columns', file: key, name }),
      })),
    {
      id: 'gather-rename',
      says: 'Rename this gathering',
      words: 'name',
      when: bench,
      run: () => {
        // The name stands in the column of files; where that is put away it is shown.
        const button = document.getElementById('gather-rename');
        if (button) button.click();
        else gather.sheet = { is: 'files' };
      },
    },
    {
      id: 'gather-away',
      says: 'Put this gathering away…',
      words: 'end finish',
      when: bench,
      run: () => (gather.sheet = { is: 'put-away' }),
    },
    {
      id: 'gather-back',
      says: 'Take a gathering back…',
      words: 'undo earlier gatherings',
      run: () => (gather.sheet = { is: 'gatherings' }),
    },
  ];
}

function bringing(gather: GatherState): Action[] {
  // The inputs stand in the column of files; where that is put away it is shown first.
  const choose = (id: string) => (): void => {
    const input = document.getElementById(id);
    if (input) input.click();
    else gather.sheet = { is: 'files' };
  };
  return [
    {
      id: 'gather-folder',
      says: 'Choose a folder to gather',
      words: 'open import bring notebooks',
      run: choose('gather-folder'),
    },
    {
      id: 'gather-files',
      says: 'Choose files to gather',
      words: 'open import bring',
      run: choose('gather-files'),
    },
    {
      id: 'gather-paste',
      says: 'Paste words to gather',
      words: 'type clipboard',
      run: () => (gather.sheet = { is: 'paste' }),
    },
    {
      id: 'gather-samples',
      says: 'Gather six sample notes',
      words: 'try example',
      run: () => void gather.gather(sampleNotes()),
    },
  ];
}
