import { useLayoutEffect } from 'preact/hooks';
import { useStore } from '../store/useStore.ts';

/** Sets the chosen theme on the page; without a choice the system's is followed. */
export function useTheme(): void {
  const theme = useStore((state) => state.preferences.theme);
  useLayoutEffect(() => {
    if (theme === 'system') delete document.documentElement.dataset.theme;
    else document.documentElement.dataset.theme = theme;
  }, [theme]);
}
