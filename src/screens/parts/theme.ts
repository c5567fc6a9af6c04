import { useLayoutEffect } from 'react';
import type { Theme } from '../services.ts';

/** Puts the theme on the page. "system" follows the device, also when it changes in the evening. */
export function useTheme(theme: Theme): void {
  useLayoutEffect(() => {
    const dark = window.matchMedia('(prefers-color-scheme: dark)');
    const put = () => {
      document.documentElement.dataset['theme'] =
        theme === 'system' ? (dark.matches ? 'dark' : 'light') : theme;
    };
    put();
    dark.addEventListener('change', put);
    return () => dark.removeEventListener('change', put);
  }, [theme]);
}
