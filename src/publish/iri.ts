/** Names for records in formats of the web. */

const UUID = /^[0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12}$/i;

/** A record's IRI: `urn:uuid:` (RFC 9562) for an id that is a UUID; a fragment of the file itself for any other. */
export const iriOf = (id: string): string =>
  UUID.test(id) ? `urn:uuid:${id.toLowerCase()}` : `#${encodeURIComponent(id)}`;

/** A book's IRI: its ISBN (RFC 3187) where that is known, because others know it by that too. */
export const bookIri = ({ id, isbn }: { id: string; isbn?: string }): string =>
  isbn && /^[\dXx-]+$/.test(isbn)
    ? `urn:isbn:${isbn.replaceAll('-', '').toUpperCase()}`
    : iriOf(id);
