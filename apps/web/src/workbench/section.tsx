import { Paper, Stack, Title } from '@mantine/core';
import type { ReactNode } from 'react';

export function Section({ title, children }: { title: string; children: ReactNode }) {
  return <Paper withBorder p="md" component="section"><Stack gap="sm"><Title order={2} size="h4">{title}</Title>{children}</Stack></Paper>;
}
