/** The typefaces of a printing from the installed packages, for tests. */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { FACES, MORE_FACES, type Face, type FontData } from '../../../src/publish/faces';

const read = (faces: readonly Face[]): FontData[] =>
  faces.map((face) => ({
    ...face,
    base64: readFileSync(path.resolve('node_modules', face.path)).toString('base64'),
  }));

export const usualFaces = (): FontData[] => read(FACES);
export const allFaces = (): FontData[] => read([...FACES, ...MORE_FACES]);
