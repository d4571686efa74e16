import { Anchor, List, Stack, Text, Title } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import { Link } from 'react-router';
import { findingKind, type PackFinding } from '#contract/packs';
import { isOpenToAuditors } from '../shared/auditor-screens.js';
import { useFormat } from '../shared/format.js';
import { usePerson } from '../shared/session.js';
import { findingLink } from './finding-link.js';

const SHOWN = 6;

/** By kind, in the order of proof; each line leads to the screen where it is mended or explained, where the person has that screen. */
export function FindingList({ findings, days, order = 3 }: { findings: readonly PackFinding[]; days: { from: string; to: string }; order?: 3 | 4 }) {
  const { t } = useTranslation('packs');
  const format = useFormat();
  const isAuditor = usePerson().role === 'auditor';
  const line = ({ kind, about, count, at, value, needed, signalId }: PackFinding) => t(`ready.lines.${kind}`, {
    about, count: count ?? 0, at: at === null ? '–' : format.dateTime(at), value: format.number(value, 2), needed: needed === null ? '–' : format.number(needed, Number.isInteger(needed) ? 0 : 2), signal: signalId ?? '–',
  });
  return (
    <Stack gap="md">
      {findingKind.options.map((kind) => {
        const own = findings.filter((finding) => finding.kind === kind);
        if (own.length === 0) return null;
        return (
          <section key={kind} aria-label={t(`ready.kinds.${kind}`)}>
            <Title order={order} size="h5">{t(`ready.kinds.${kind}`)}</Title>
            <List listStyleType="none" spacing={4}>
              {own.slice(0, SHOWN).map((finding) => <List.Item key={`${finding.about} ${finding.streamId} ${finding.signalId} ${finding.at}`}>{isAuditor && !isOpenToAuditors(findingLink(finding, days)) ? line(finding) : <Anchor component={Link} to={findingLink(finding, days)} underline="always">{line(finding)}</Anchor>}</List.Item>)}
            </List>
            {own.length > SHOWN ? <Text c="dimmed">{t('ready.more', { count: own.length - SHOWN })}</Text> : null}
          </section>
        );
      })}
    </Stack>
  );
}
