import './capability-sheet.css';
import { Alert, Anchor, Button, List, Stack, Text, Title } from '@mantine/core';
import { Fragment, useState } from 'react';
import { useTranslation } from 'react-i18next';
import { Link, useParams } from 'react-router';
import type { StudyRecord } from '#contract/capability-studies';
import { closers } from '#contract/roles';
import { useFormat } from '../shared/format.js';
import { RecordSignatures } from '../shared/record-signatures.js';
import { useMay, usePerson } from '../shared/session.js';
import { Page, QueryView } from '../shared/states.js';
import { VerificationResult } from '../shared/verification-result.js';
import { CapabilityStudySheet } from './capability-study-sheet.js';
import { GaugeStudyResult } from './gauge-study-result.js';
import { StepDialog } from './step-dialog.js';
import { SetAsideDialog } from './set-aside-dialog.js';
import { StudyState } from './study-state.js';
import { useStudyRecord } from './study-records.queries.js';

export function StudyPage() {
  const { t } = useTranslation('studyRecords');
  const query = useStudyRecord(Number(useParams()['id']));
  return <QueryView query={query} what={t('loadingOne')}>{(study) => <Study study={study} />}</QueryView>;
}

function Study({ study }: { study: StudyRecord }) {
  const { t } = useTranslation('studyRecords');
  const format = useFormat();
  const [open, setOpen] = useState<'checked' | 'approved' | 'aside' | null>(null);
  const [maySign, person] = [useMay(closers), usePerson()];
  const next = study.state === 'draft' ? 'checked' : study.state === 'checked' ? 'approved' : null;
  const own = study.authorId === person.id;
  const actions = (
    <>
      {maySign && next && !own ? <Button size="md" onClick={() => setOpen(next)}>{t(next === 'checked' ? 'step.check' : 'step.approve')}</Button> : null}
      {maySign && ['measuring', 'draft', 'checked'].includes(study.state) ? <Button size="md" variant="default" onClick={() => setOpen('aside')}>{t('step.aside')}</Button> : null}
      <Button size="md" variant="default" onClick={() => window.print()}>{t('page.print')}</Button>
    </>
  );
  const { content } = study;
  return (
    <Page title={study.title} actions={actions}>
      <Stack gap="md" className="capability-sheet">
        {study.stale ? <Alert color="gray" title={t('list.stale')} role="status">{t('page.stale')}</Alert> : null}
        {study.state === 'superseded' ? <Alert color="gray" title={t('page.superseded')}>{study.supersededById ? <Anchor component={Link} underline="always" to={`/studies/${study.supersededById}`}>{t('page.supersededBy', { id: study.supersededById })}</Anchor> : null}</Alert> : null}
        {next && own && maySign ? <Text className="no-print">{t('step.own')}</Text> : null}
        <Facts study={study} />
        {content.kind === 'capability' ? <CapabilityStudySheet content={content} /> : content.kind === 'gauge' ? <GaugeStudyResult id={study.id} state={study.state} content={content} /> : (
          <section><Title order={2} size="h4" pb="xs">{t('page.change')}</Title><Text>{t('page.changeAt', { change: content.asked.change, at: format.dateTime(content.asked.changedAt) })}</Text><VerificationResult answer={content.answer} /></section>
        )}
        {study.state === 'measuring' ? null : <RecordSignatures kind="study-record" recordId={study.id} meanings={[]} />}
        <section>
          <Title order={2} size="h4" pb="xs">{t('page.history')}</Title>
          <List>{study.steps.map(({ id, state, actor, comment, at }) => <List.Item key={id}>{t(comment ? 'page.stepComment' : 'page.step', { at: format.dateTime(at), state: t(`state.${state}`), actor, comment })}</List.Item>)}</List>
        </section>
      </Stack>
      {open === 'aside' ? <SetAsideDialog id={study.id} onClose={() => setOpen(null)} /> : open ? <StepDialog id={study.id} state={open} onClose={() => setOpen(null)} /> : null}
    </Page>
  );
}

function Facts({ study }: { study: StudyRecord }) {
  const { t } = useTranslation('studyRecords');
  const format = useFormat();
  const named = ({ code, name }: { code: string; name: string }) => `${code} ${name}`;
  const rows: [string, React.ReactNode][] = [
    [t('list.study'), t('name', { id: study.id })], [t('list.kind'), t(`kind.${study.kind}`)],
    // The sheet of a capability study says it below.
    ...(study.product && study.kind !== 'capability' ? [[t('page.product'), named(study.product)] as [string, string]] : []), ...(study.machine && study.kind !== 'capability' ? [[t('page.machine'), named(study.machine)] as [string, string]] : []),
    ...(study.kind === 'capability' ? [] : [[t('page.characteristic'), study.characteristic.name] as [string, string]]), ...(study.kind === 'gauge' ? [[t('page.gauge'), study.gauge ? named(study.gauge) : t('page.noGauge')] as [string, string]] : []),
    [t('page.author'), t('list.by', { name: study.author, at: format.dateTime(study.createdAt) })], [t('page.state'), <StudyState key="state" study={study} />], ...(study.kind === 'capability' ? [] : [[t('page.version'), study.version] as [string, string]]),
    ...(study.note ? [[t('page.note'), study.note] as [string, string]] : []),
    ...(study.supersedesId && study.state !== 'superseded' ? [[t('keep.supersedes'), <Anchor key="old" component={Link} underline="always" to={`/studies/${study.supersedesId}`}>{t('name', { id: study.supersedesId })}</Anchor>] as [string, React.ReactNode]] : []),
    ...(study.inputsHash ? [[t('page.hash'), <span key="hash" className="hash">{study.inputsCount === null ? study.inputsHash : t('page.counted', { count: study.inputsCount, hash: study.inputsHash })}</span>] as [string, React.ReactNode]] : []),
  ];
  return <dl className="sheet-head">{rows.map(([name, value]) => <Fragment key={name}><dt>{name}</dt><dd>{value}</dd></Fragment>)}</dl>;
}
