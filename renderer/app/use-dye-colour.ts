import { useEffect } from 'react';
import { dyeAccent, hexOfLab, selectedOnDye } from '../state/dye-accent.ts';
import { jobOf } from '../state/app-store.ts';
import { useApp } from './services.ts';

/** Film darker than this hides the view's usual dark edges. */
const DARK_FILM_L = 38;
const ACCENT = ['--accent', '--accent-soft', '--on-accent'] as const;
const VIEW = ['--view-coat', '--view-edge', '--view-selected'] as const;
/** Of selected faces, as viewport.css has it. */
const SELECTED = { light: '#0a56c2', dark: '#bfe6ff' } as const;

/**
 * The job's dye in the window: the accent takes its hue unless it would pass for a warning, and at the finish stage the part its colour. Set on the root
 * element's own style, which the 3D view's theme follows.
 */
export function useDyeColour(): void {
  const dye = useApp((state) => jobOf(state).finish.dye);
  const theme = useApp((state) => state.theme);
  const onPart = useApp((state) => state.stage === 'finish' && state.dyeOnPart);
  const colour = dye.use ? dye.colour : null;
  useEffect(() => {
    const root = document.documentElement;
    const clear = (): void => {
      for (const token of [...ACCENT, ...VIEW]) root.style.removeProperty(token);
    };
    const apply = (): void => {
      clear();
      if (!colour) return;
      const tokens = getComputedStyle(root);
      const token = (name: string): string => tokens.getPropertyValue(name).trim();
      const made = dyeAccent(colour, {
        surface: token('--surface'),
        raised: token('--surface-raised'),
        sunken: token('--surface-sunken'),
        ink: token('--ink'),
        inkSoft: token('--ink-soft'),
        warnings: [token('--stop'), token('--check')],
      });
      if (made) {
        root.style.setProperty('--accent', made.accent);
        root.style.setProperty('--accent-soft', made.soft);
        root.style.setProperty('--on-accent', made.onAccent);
      }
      if (!onPart) return;
      root.style.setProperty('--view-coat', hexOfLab(colour));
      const own = SELECTED[root.dataset.theme === 'dark' ? 'dark' : 'light'];
      root.style.setProperty('--view-selected', selectedOnDye(colour, own));
      if (colour.l < DARK_FILM_L) root.style.setProperty('--view-edge', '#aab6bb');
    };
    apply();
    const system = window.matchMedia('(prefers-color-scheme: dark)');
    system.addEventListener('change', apply);
    return () => {
      system.removeEventListener('change', apply);
      clear();
    };
  }, [colour, theme, onPart]);
}
