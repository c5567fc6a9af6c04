import { z } from 'zod/v4';

/**
 * What `zod` means in the page (vite.config.ts puts it there). Zod tries at its
 * first schema whether it may make functions out of text, to read faster. The
 * page's policy forbids that, and every try would be reported as a violation;
 * so it is told beforehand. The order matters: this runs before any schema is
 * made, in whatever chunk the schema lies.
 */
z.config({ jitless: true });

export * from 'zod/v4';
export { z, z as default };
