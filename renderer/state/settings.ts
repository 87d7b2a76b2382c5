import { z } from 'zod';
import type { AppStore } from './app-store.ts';
import type { DeskDatabase } from './desk-database.ts';

const schema = z.object({
  unitSystem: z.enum(['metric', 'us']),
  theme: z.enum(['system', 'light', 'dark']),
  hintsSeen: z.boolean(),
});

const KEY = 'view';

/** How the window was left: units, theme, hints. A damaged or missing record leaves the defaults. */
export async function restoreSettings(store: AppStore, database: DeskDatabase): Promise<void> {
  const row = await database.settings.get(KEY);
  if (!row) return;
  try {
    const read = schema.safeParse(JSON.parse(row.value));
    if (read.success) store.setState(read.data);
  } catch {
    await database.settings.delete(KEY);
  }
}

export function keepSettings(store: AppStore, database: DeskDatabase): void {
  store.subscribe((state, before) => {
    const { unitSystem, theme, hintsSeen } = state;
    if (unitSystem === before.unitSystem && theme === before.theme && hintsSeen === before.hintsSeen) return;
    // Losing a preference is no reason to disturb the user; the draft keeper reports blocked storage.
    database.settings
      .put({ key: KEY, value: JSON.stringify({ unitSystem, theme, hintsSeen }) })
      .catch(() => {});
  });
}
