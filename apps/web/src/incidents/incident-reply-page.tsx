import { Alert, Button, Group, NativeSelect, Stack, Text, Textarea } from '@mantine/core';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import { Link, useParams } from 'react-router';
import { type IncidentReply, type ReplyLanguage, replyLanguage } from '#contract/incident-life';
import { investigators } from '#contract/roles';
import { useFormat } from '../shared/format.js';
import { ProblemList } from '../shared/problem-list.js';
import { useMay } from '../shared/session.js';
import { Page, QueryView } from '../shared/states.js';
import { useReply, useSaveReply } from './incident-life.queries.js';

type Texts = Partial<Record<ReplyLanguage, string>>;

export function IncidentReplyPage() {
  const id = Number(useParams()['id']);
  // Anew for each incident: nothing typed for one customer stands under the name of another.
  return <ReplyOf key={id} id={id} />;
}

function ReplyOf({ id }: { id: number }) {
  const { t } = useTranslation('incidentLife');
  const [language, setLanguage] = useState<ReplyLanguage>();
  // By language: what was typed in one is there again after a look at the other.
  const [texts, setTexts] = useState<Texts>({});
  return <QueryView query={useReply(id, language)} what={t('reply.loading')}>{(reply) => <Reply reply={reply} texts={texts} onText={(text) => setTexts({ ...texts, [reply.language]: text })} onLanguage={setLanguage} />}</QueryView>;
}

/** The text on the left is edited; the sheet below is what the printer gets, with the caution that nobody can take off it. */
function Reply({ reply, texts, onText, onLanguage }: { reply: IncidentReply; texts: Texts; onText: (text: string) => void; onLanguage: (language: ReplyLanguage) => void }) {
  const { t } = useTranslation('incidentLife');
  const format = useFormat();
  const save = useSaveReply(reply.incidentId);
  const mayWrite = useMay(investigators);
  const newest = reply.versions[0];
  const { language } = reply;
  const text = texts[language] ?? reply.versions.find((version) => version.language === language)?.text ?? reply.draft;
  const state = (counts: boolean) => t(counts ? 'reply.counts' : 'reply.draft');
  const counted = newest?.counts === true && newest.language === language && newest.text === text.trim();
  const store = (counts: boolean) => save.mutate({ seen: newest?.version ?? 0, text, counts, language });
  return (
    <Page title={t('reply.title', { customer: reply.customer, id: reply.incidentId })} actions={<><Button component={Link} to={`/incidents/${reply.incidentId}`} variant="default" size="md">{t('reply.back', { id: reply.incidentId })}</Button><Button size="md" variant="default" onClick={() => window.print()}>{t('reply.print')}</Button></>}>
      <Stack gap="md">
        <Text className="no-print">{newest ? t('reply.newest', { version: newest.version, author: newest.author, at: format.dateTime(newest.createdAt), state: state(newest.counts) }) : t('reply.none')}</Text>
        <NativeSelect className="no-print" size="md" maw={320} label={t('reply.language')} description={t('reply.languageHint')} value={language} data={replyLanguage.options.map((value) => ({ value, label: t(`reply.languages.${value}`) }))} onChange={({ currentTarget }) => onLanguage(replyLanguage.parse(currentTarget.value))} />
        {mayWrite ? (
          <Stack gap="sm" className="no-print" maw={900}>
            <Textarea size="md" label={t('reply.text')} description={t('reply.textHint')} autosize minRows={12} maxRows={30} maxLength={20_000} value={text} onChange={({ currentTarget }) => onText(currentTarget.value)} />
            <ProblemList error={save.error} />
            <Group gap="sm">
              <Button size="md" variant="default" loading={save.isPending} disabled={text.trim() === ''} onClick={() => store(false)}>{t('reply.save')}</Button>
              <Button size="md" loading={save.isPending} disabled={text.trim() === ''} onClick={() => store(true)}>{t('reply.saveCounts')}</Button>
              <Button size="md" variant="subtle" onClick={() => onText(reply.draft)}>{t('reply.startAnew')}</Button>
            </Group>
          </Stack>
        ) : null}
        {reply.versions.length > 1 ? (
          <details className="no-print">
            <summary style={{ padding: '8px 0' }}>{t('reply.versions')}</summary>
            {reply.versions.map((version) => <section key={version.version}><Text fw={600}>{t('reply.version', { version: version.version, author: version.author, at: format.dateTime(version.createdAt), state: state(version.counts) })}</Text><Text size="sm" pb="md" style={{ whiteSpace: 'pre-wrap' }}>{version.text}</Text></section>)}
          </details>
        ) : null}
        <article aria-label={t('reply.preview')} className="reply-sheet" lang={language}>
          {counted ? null : <Text fw={700}>{reply.notCounting}</Text>}
          <Text style={{ whiteSpace: 'pre-wrap' }}>{text}</Text>
          <Alert color="gray" title={reply.cautionTitle} role="note" mt="lg">{reply.caution}</Alert>
          {counted && newest ? <Text size="sm" c="dimmed" pt="sm">{t('reply.signed', { version: newest.version, author: newest.author, at: format.dateTime(newest.createdAt) })}</Text> : null}
        </article>
      </Stack>
    </Page>
  );
}
