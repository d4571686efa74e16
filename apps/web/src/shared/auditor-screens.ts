/** The screens that work with what the server shows an auditor, as they stand in the menu. */
export const AUDITOR_SCREENS = ['charts', 'signals', 'incidents', 'capability', 'workbench', 'packs'] as const;

const OPEN = new RegExp(`^/(?:(?:${AUDITOR_SCREENS.join('|')})|(?:signals|incidents|packs|checks)/\\d+|account)/?$`);

/** Whether a path of the program, with or without its query, is one of them or a record that they lead to. */
export const isOpenToAuditors = (link: string): boolean => OPEN.test(link.split(/[?#]/, 1)[0] ?? '');
