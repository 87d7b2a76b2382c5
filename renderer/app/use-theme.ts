import { useEffect } from 'react';
import { useApp } from './services.ts';

/** Puts the chosen theme, or the system's, on the root element, where tokens.css looks for it. */
export function useThemeAttribute(): void {
  const theme = useApp((state) => state.theme);
  useEffect(() => {
    const system = window.matchMedia('(prefers-color-scheme: dark)');
    const apply = (): void => {
      const dark = theme === 'dark' || (theme === 'system' && system.matches);
      document.documentElement.dataset.theme = dark ? 'dark' : 'light';
    };
    apply();
    system.addEventListener('change', apply);
    return () => system.removeEventListener('change', apply);
  }, [theme]);
}
