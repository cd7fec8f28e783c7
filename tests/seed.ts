/**
 * Every property is tried on the same random cases each time, so that a change is judged by what it changed.
 * `PROPERTY_SEED=random npx vitest run` tries new ones, and `PROPERTY_SEED=42` those of one number.
 */
import fc from 'fast-check';

const asked = process.env['PROPERTY_SEED'] ?? '20240314';
if (asked !== 'random') fc.configureGlobal({ seed: Number(asked) });
