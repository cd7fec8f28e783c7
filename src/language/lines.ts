/** The lines of a text that was joined by line ends; none of an empty one. */
export const linesOf = (text: string): string[] => (text === '' ? [] : text.split('\n'));
