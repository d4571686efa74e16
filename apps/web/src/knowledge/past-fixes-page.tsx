import { Button, Group, NativeSelect, Paper, Stack, Text, TextInput, Title } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import { Link } from 'react-router';
import type { AnswerOf } from '#contract/endpoint';
import type { searchPastFixes } from '#contract/knowledge';
import { investigators } from '#contract/roles';
import { useAddressParams } from '../shared/address-params.js';
import { stepWords } from '../shared/defects.queries.js';
import { useMay } from '../shared/session.js';
import { EmptyState, Page, QueryView } from '../shared/states.js';
import { usePastFixes } from './knowledge.queries.js';
import { PastFixCard } from './past-fix-card.js';
import { type PastFixesView, readPastFixesUrl, writePastFixesUrl } from './past-fixes.url.js';
import { useTypedSearch } from './use-typed-search.js';

const FACETS = ['kind', 'defect', 'step', 'machine', 'verified'] as const;
const NO_FACET = { kind: undefined, defect: undefined, step: undefined, machine: undefined, verified: undefined };

export function PastFixesPage() {
  const { t } = useTranslation('knowledge');
  const [params, changeParams] = useAddressParams();
  const view = readPastFixesUrl(params);
  const change = (next: Partial<PastFixesView>) => changeParams((before) => writePastFixesUrl({ ...readPastFixesUrl(before), ...next }), { replace: true });
  const [typed, setTyped] = useTypedSearch(view.q, (q) => change({ q }));
  const found = usePastFixes({ ...view, take: 50 });
  const mayWrite = useMay(investigators);
  return (
    <Page title={t('title')} actions={<><Button component={Link} to="/set-up?section=synonyms" size="md" variant="default">{t('search.synonyms')}</Button>{mayWrite ? <Button component={Link} to="/past-fixes/new" size="md">{t('newNote')}</Button> : null}</>}>
      <TextInput type="search" size="lg" label={t('search.label')} placeholder={t('search.placeholder')} description={t('search.hint')} value={typed} maxLength={400} autoFocus onChange={({ currentTarget }) => setTyped(currentTarget.value)} />
      <QueryView query={found} what={t('loading')}>
        {(data) => (
          <Stack gap="md">
            <Ambiguous words={data.ambiguous} onChoose={(preferred) => change({ meaning: [...meaningsOf(view), preferred].join(',') })} />
            <Taken words={data.taken} onAsk={(preferred) => change({ meaning: meaningsOf(view).filter((word) => word !== preferred).join(',') || undefined })} />
            <Facets view={view} facets={data.facets} onChange={change} />
            <Text role="status" aria-live="polite" c="dimmed">{[t('search.results', { count: data.total }), view.q.trim() === '' ? t('search.newest') : null, data.hits.length < data.total ? t('search.shown', { shown: data.hits.length, total: data.total }) : null].filter((part) => part !== null).join(' · ')}</Text>
            {data.hits.length > 0 ? <Stack component="ul" gap="sm" p={0} m={0} aria-busy={found.isPlaceholderData}>{data.hits.map((hit) => <PastFixCard key={`${hit.kind}${hit.id}`} hit={hit} />)}</Stack>
              : writePastFixesUrl(view).size === 0 ? <EmptyState title={t('empty.nothing.title')} text={t('empty.nothing.text')} />
                : <EmptyState title={t('empty.noHit.title')} text={t('empty.noHit.text')} action={<Button variant="default" size="md" onClick={() => changeParams(() => new URLSearchParams())}>{t('search.clear')}</Button>} />}
          </Stack>
        )}
      </QueryView>
    </Page>
  );
}

type Answer = AnswerOf<typeof searchPastFixes>;

const meaningsOf = ({ meaning }: PastFixesView): string[] => (meaning === undefined ? [] : meaning.split(','));

/** A word with two meanings is asked about; the answer goes into the address beside the words. */
function Ambiguous({ words, onChoose }: { words: Answer['ambiguous']; onChoose: (preferred: string) => void }) {
  const { t } = useTranslation('knowledge');
  return words.map(({ term, meanings }) => (
    <Paper key={term} withBorder p="md" role="group" aria-label={t('ambiguous.title', { term })}>
      <Title order={2} size="h5">{t('ambiguous.title', { term })}</Title>
      <Text size="sm" pb="xs">{t('ambiguous.ask')}</Text>
      <Group gap="sm">{meanings.map((meaning) => <Button key={meaning.preferred} variant="default" size="md" h="auto" py="xs" styles={{ label: { whiteSpace: 'normal' } }} onClick={() => onChoose(meaning.preferred)}>{t('ambiguous.choose', meaning)}</Button>)}</Group>
    </Paper>
  ));
}

/** How a word with two meanings was taken, and the way back to the question. */
function Taken({ words, onAsk }: { words: Answer['taken']; onAsk: (preferred: string) => void }) {
  const { t } = useTranslation('knowledge');
  return words.map(({ term, preferred }) => (
    <Group key={term} gap="sm">
      <Text>{t('ambiguous.taken', { term, preferred })}</Text>
      <Button variant="default" size="md" aria-label={t('ambiguous.againFor', { term })} onClick={() => onAsk(preferred)}>{t('ambiguous.again')}</Button>
    </Group>
  ));
}

function Facets({ view, facets, onChange }: { view: PastFixesView; facets: Answer['facets']; onChange: (change: Partial<PastFixesView>) => void }) {
  const { t } = useTranslation('knowledge');
  const nameOf = (facet: (typeof FACETS)[number], { value, name }: { value: string; name: string }) => (facet === 'kind' && (value === 'note' || value === 'incident') ? t(`kind.${value}`) : facet === 'verified' && (value === 'true' || value === 'false') ? t(`verified.${value}`) : facet === 'step' ? stepWords(name) : name);
  return (
    <Group align="flex-end" gap="sm" role="group" aria-label={t('facets.title')}>
      {FACETS.map((facet) => {
        const options = facets[facet].map((entry) => ({ value: entry.value, label: t('facets.counted', { name: nameOf(facet, entry), count: entry.count }) }));
        const chosen = view[facet];
        // A chosen filter that fits nothing now stays in sight, so that it can be taken away.
        const gone = chosen !== undefined && !options.some(({ value }) => value === chosen) ? [{ value: chosen, label: t('facets.counted', { name: chosen, count: 0 }) }] : [];
        return (
          <NativeSelect key={facet} size="md" label={t(`facets.${facet}`)} value={chosen ?? ''} data={[{ value: '', label: t('facets.any') }, ...gone, ...options]}
            onChange={({ currentTarget: { value } }) => onChange({ [facet]: value === '' ? undefined : value })} />
        );
      })}
      {FACETS.some((facet) => view[facet] !== undefined) ? <Button variant="subtle" size="md" onClick={() => onChange(NO_FACET)}>{t('facets.clear')}</Button> : null}
    </Group>
  );
}
