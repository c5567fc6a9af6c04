import { afterAll, beforeAll, test } from 'vitest';
import { BY_HAND, type Find } from '../screens/by-hand.ts';
import { screenOf, stageOf, type Stage } from './screens-stage.ts';

let stage: Stage;
beforeAll(async () => {
  stage = await stageOf();
});
afterAll(() => stage?.close());

test.concurrent.for(BY_HAND)('"$say" by touch and by key: $screen', async (row, { expect }) => {
  for (const by of ['touch', 'key'] as const) {
    const { page } = await stage.opened(screenOf(row.screen), 'light');
    const act = async (find: Find) => {
      const target = find(page);
      await target.waitFor();
      if (by === 'touch') return target.click();
      await target.focus();
      expect(await target.evaluate((e) => e === document.activeElement && e.tabIndex >= 0)).toBe(
        true,
      );
      const box = await target.evaluate((e) => e.matches('input[type="checkbox"]'));
      await page.keyboard.press(box ? 'Space' : 'Enter');
    };
    if (row.first !== undefined) await act(row.first);
    if (row.press !== undefined) await act(row.press);
    if (row.calls !== undefined) {
      const wanted = row.calls;
      await expect
        .poll(() => page.evaluate(() => window.fake.calls.map((c) => c.name)), { message: by })
        .toContain(wanted);
    }
    if (row.leads !== undefined) expect(new URL(page.url()).hash, by).toBe(row.leads);
    if (row.stands !== undefined) expect(await row.stands(page).isVisible()).toBe(true);
    await page.context().close();
  }
});
