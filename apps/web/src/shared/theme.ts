import { createTheme, type MantineColorsTuple } from '@mantine/core';

/** One accent: the blue-green of a printed tin. Shades 7 and 8 carry white labels at 4.5 to 1 or more; 7 also stands out of the dark body at 3 to 1, for focus rings. */
const tin: MantineColorsTuple = ['#e6f6f9', '#d3e8ee', '#a7d1dd', '#78b9cb', '#52a5bc', '#3b99b3', '#2b8ea9', '#1f7a91', '#155e75', '#0c4a5e'];

export const theme = createTheme({
  primaryColor: 'tin', primaryShade: { light: 8, dark: 7 }, colors: { tin }, autoContrast: true,
  fontFamily: 'system-ui, -apple-system, "Segoe UI", Roboto, "Liberation Sans", sans-serif',
  fontSizes: { xs: '0.85rem', sm: '0.95rem', md: '1.05rem', lg: '1.2rem', xl: '1.4rem' },
  components: {
    // A table that scrolls sideways can be scrolled by keyboard.
    TableScrollContainer: { defaultProps: { scrollAreaProps: { viewportProps: { tabIndex: 0 } } } },
    // The word inside an empty file field is its only sign that it can be clicked: dark enough to be read.
    FileInput: { styles: { placeholder: { color: 'var(--mantine-color-dimmed)' } } },
  },
  defaultRadius: 'md', cursorType: 'pointer', respectReducedMotion: true,
});
