/** What is searched of an entry, field by field. At most eight: each is a bit of a byte where a word is held. */
export const FIELDS = [
  'text',
  'title',
  'heading',
  'answer',
  'probes',
  'source',
  'picture',
] as const;
export type FieldName = (typeof FIELDS)[number];

/** Weight of a word by the field it stands in (BM25F, Robertson and Zaragoza 2009: weighted counts, one saturation). */
export const FIELD_WEIGHT: Record<FieldName, number> = {
  text: 1,
  title: 2,
  heading: 1.4,
  answer: 0.5,
  probes: 0.4,
  source: 0.3,
  picture: 0.5,
};

/** Only words of the first so many fields make a document longer: what stands beside a text is no sign that the text says less of each thing. */
export const LENGTHENING = FIELDS.indexOf('heading');
