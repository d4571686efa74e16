/** The chart's labels read a little markup; text that people typed must not be read as it. */
export const chartText = (text: string): string => text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;');
