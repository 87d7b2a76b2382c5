import { useEffect, useState } from 'react';
import { readViewportTheme, type ViewportTheme } from '../viewport/viewport-theme.ts';

/** The 3D view's colours, read again whenever the window turns light or dark. */
export function useViewportTheme(): ViewportTheme {
  const [theme, setTheme] = useState(() => readViewportTheme(document.body));
  useEffect(() => {
    const watcher = new MutationObserver(() => setTheme(readViewportTheme(document.body)));
    watcher.observe(document.documentElement, { attributeFilter: ['data-theme'] });
    return () => watcher.disconnect();
  }, []);
  return theme;
}
