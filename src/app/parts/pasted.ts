/** What is dragged or pasted onto a page: files, or words. */

/**
 * The files that were pasted, where files are what is meant: word processors and spreadsheets lay a picture of the words beside the words, and
 * file managers lay the names of the files beside the files. None where words were pasted.
 */
export function filesPasted(data: DataTransfer | null): File[] {
  const files = [...(data?.files ?? [])];
  const [line = ''] = (data?.getData('text/plain') ?? '').trim().split('\n');
  return line === '' || files.some(({ name }) => line.trim().endsWith(name)) ? files : [];
}

/** Whether what is dragged holds files. */
export const holdsFiles = (data: DataTransfer | null): boolean =>
  data?.types.includes('Files') ?? false;
