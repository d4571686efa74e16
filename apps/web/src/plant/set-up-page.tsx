import { Alert, Anchor, List, Tabs } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import { Link, useSearchParams } from 'react-router';
import type { PlantTree } from '#contract/plant';
import { keepers } from '#contract/retention';
import { administrators, engineers } from '#contract/roles';
import { usePlant } from '../shared/plant.queries.js';
import { useMay } from '../shared/session.js';
import { Page, QueryView } from '../shared/states.js';
import { CanCodesSection } from './set-up-can-codes.js';
import { CharacteristicsSection } from './set-up-characteristics.js';
import { AuditSection } from './set-up-audit.js';
import { CheckPlansSection } from './set-up-check-plans.js';
import { CountersSection } from './set-up-counters.js';
import { FeedsSection } from './set-up-feeds.js';
import { GaugesSection } from './set-up-gauges.js';
import { LinesSection } from './set-up-lines.js';
import { OriginWeightsSection } from './set-up-origin-weights.js';
import { PeopleSection } from './set-up-people.js';
import { PortableSection } from './set-up-portable.js';
import { ProductsSection } from './set-up-products.js';
import { ReactionsSection } from './set-up-reactions.js';
import { RetentionSection } from './set-up-retention.js';
import { ShiftsSection } from './set-up-shifts.js';
import { SpecificationsSection } from './set-up-specifications.js';
import { SynonymsSection } from './set-up-synonyms.js';
import { WeldWindowsSection } from './set-up-weld-windows.js';

const SECTIONS = ['lines', 'products', 'characteristics', 'specifications', 'weldWindows', 'plans', 'reactions', 'gauges', 'feeds', 'codes', 'counters', 'shifts', 'weights', 'synonyms', 'retention', 'people', 'audit', 'portable'] as const;
type Section = (typeof SECTIONS)[number];
const isSection = (text: string | null): text is Section => SECTIONS.some((section) => section === text);

/** What everything else refers to. The address names the section. */
export function SetUpPage() {
  const { t: floor } = useTranslation('floor');
  const { t: out } = useTranslation('outgoing');
  const { t } = useTranslation(['plant', 'monitors']);
  const [params, setParams] = useSearchParams();
  const plant = usePlant();
  const mayChange = useMay(engineers);
  const mayManage = useMay(administrators);
  const mayKeep = useMay(keepers);
  const asked = params.get('section');
  const section = isSection(asked) ? asked : 'lines';
  return (
    <Page title={t('setUp.title')} actions={<><Anchor component={Link} to="/labels" underline="always">{floor('labels.link')}</Anchor><Anchor component={Link} to="/set-up/monitors" underline="always">{t('monitors:link')}</Anchor>{mayManage ? <Anchor component={Link} to="/messages-out" underline="always">{out('out.title')}</Anchor> : null}</>}>
      <QueryView query={plant} what={t('setUp.plant')}>{(tree) => (
        <>
          <NextSteps tree={tree} />
          <Tabs value={section} onChange={(next) => setParams({ section: next ?? 'lines' })} keepMounted={false}>
            <Tabs.List mb="md">{SECTIONS.filter((name) => (name !== 'people' || mayManage) && (name !== 'feeds' || mayChange) && (name !== 'retention' || mayKeep)).map((name) => <Tabs.Tab key={name} value={name} py="sm">{t(`setUp.sections.${name}`)}</Tabs.Tab>)}</Tabs.List>
            <Tabs.Panel value="lines"><LinesSection tree={tree} mayChange={mayChange} /></Tabs.Panel>
            <Tabs.Panel value="products"><ProductsSection tree={tree} mayChange={mayChange} /></Tabs.Panel>
            <Tabs.Panel value="characteristics"><CharacteristicsSection tree={tree} mayChange={mayChange} /></Tabs.Panel>
            <Tabs.Panel value="specifications"><SpecificationsSection tree={tree} mayChange={mayChange} /></Tabs.Panel>
            <Tabs.Panel value="weldWindows"><WeldWindowsSection tree={tree} mayChange={mayChange} /></Tabs.Panel>
            <Tabs.Panel value="plans"><CheckPlansSection tree={tree} mayChange={mayChange} /></Tabs.Panel>
            <Tabs.Panel value="reactions"><ReactionsSection tree={tree} mayChange={mayChange} /></Tabs.Panel>
            <Tabs.Panel value="gauges"><GaugesSection tree={tree} mayChange={mayChange} /></Tabs.Panel>
            {mayChange ? <Tabs.Panel value="feeds"><FeedsSection tree={tree} /></Tabs.Panel> : null}
            <Tabs.Panel value="codes"><CanCodesSection tree={tree} mayChange={mayChange} /></Tabs.Panel>
            <Tabs.Panel value="counters"><CountersSection mayChange={mayChange} /></Tabs.Panel>
            <Tabs.Panel value="shifts"><ShiftsSection mayChange={mayChange} /></Tabs.Panel>
            <Tabs.Panel value="weights"><OriginWeightsSection mayChange={mayChange} /></Tabs.Panel>
            <Tabs.Panel value="synonyms"><SynonymsSection mayChange={mayChange} /></Tabs.Panel>
            {mayKeep ? <Tabs.Panel value="retention"><RetentionSection tree={tree} /></Tabs.Panel> : null}
            {mayManage ? <Tabs.Panel value="people"><PeopleSection customers={[...new Set(tree.products.map(({ customer }) => customer))].sort()} /></Tabs.Panel> : null}
            <Tabs.Panel value="portable"><PortableSection mayChange={mayChange} /></Tabs.Panel>
            <Tabs.Panel value="audit"><AuditSection /></Tabs.Panel>
          </Tabs>
        </>
      )}</QueryView>
    </Page>
  );
}

/** Leads an empty plant to its first check; gone once all is there. */
function NextSteps({ tree }: { tree: PlantTree }) {
  const { t } = useTranslation('plant');
  const missing = ([
    ['lines', tree.lines.some((line) => line.steps.some((step) => step.machines.length > 0))], ['products', tree.products.length > 0], ['characteristics', tree.characteristics.length > 0],
    ['specifications', tree.specifications.length > 0], ['plans', tree.checkPlans.length > 0],
  ] as const).filter(([, there]) => !there);
  if (missing.length === 0) return null;
  return (
    <Alert color="gray" title={t('setUp.next.title')}>
      <List type="ordered">{missing.map(([name]) => <List.Item key={name}><Link to={`/set-up?section=${name}`}>{t(`setUp.next.${name}`)}</Link></List.Item>)}</List>
    </Alert>
  );
}
