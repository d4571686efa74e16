import type { LaunchOptions } from 'playwright-core';

export function browserOptions(): Promise<LaunchOptions>;
