/** Nothing may run and nothing may be fetched by a printed page, even if a mark in the text were to slip through. */
export const POLICY =
  "default-src 'none'; style-src 'unsafe-inline'; font-src data:; base-uri 'none'; form-action 'none'";
