import { afterAll, expect, test } from 'vitest';
import { startPostgres } from './postgres.ts';

/**
 * The tests of the school once more, on a real PostgreSQL: the very same SQL. Where
 * none is to be had, one test holds that this is said, and nothing else was done.
 */
const postgres = await startPostgres();

if (typeof postgres === 'string') {
  test(`19: not done here: nothing was tried on a real PostgreSQL. ${postgres}`, () => {
    expect(postgres).toMatch(/PostgreSQL/);
  });
} else {
  process.env['SCHOOL_TEST_URL'] = postgres.url;
  afterAll(() => {
    delete process.env['SCHOOL_TEST_URL'];
    postgres.stop();
  });
  test('19: the database is a real PostgreSQL', async () => {
    const { openDatabase } = await import('#school');
    const database = await openDatabase({ url: postgres.url });
    expect(database.kind).toBe('postgres');
    await database.close();
  });
  await import('./sync.test.ts');
  await import('./refusals.test.ts');
}
