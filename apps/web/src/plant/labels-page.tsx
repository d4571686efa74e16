import { Alert, Button, Group, NativeSelect, Text } from '@mantine/core';
import { create } from 'qrcode';
import { useMemo, useState } from 'react';
import { useTranslation } from 'react-i18next';
import { usePlant } from '../shared/plant.queries.js';
import { EmptyState, Page, QueryView } from '../shared/states.js';
import './labels.css';

const QUIET_MODULES = 4;
const LOCAL = ['localhost', '127.0.0.1', '[::1]'];

/** Labels to print: each opens the entry grid of its machine. */
export function LabelsPage() {
  const { t } = useTranslation('floor');
  const plant = usePlant();
  const [line, setLine] = useState('');
  return (
    <Page title={t('labels.title')}>
      <QueryView query={plant} what={t('labels.loading')}>{(tree) => {
        const machines = tree.lines.filter(({ id }) => line === '' || String(id) === line).flatMap((entry) => entry.steps.flatMap((step) => step.machines.filter(({ retired }) => !retired).map((machine) => ({ ...machine, line: entry.code }))));
        if (tree.lines.length === 0) return <EmptyState title={t('labels.empty')} text={t('labels.emptyText')} />;
        return (
          <>
            <Group className="labels-tools" align="flex-end" mb="md">
              <NativeSelect size="md" label={t('labels.line')} value={line} onChange={(event) => setLine(event.currentTarget.value)} data={[{ value: '', label: t('labels.allLines') }, ...tree.lines.map(({ id, code, name }) => ({ value: String(id), label: `${code} ${name}` }))]} />
              <Button size="md" onClick={() => window.print()}>{t('labels.print')}</Button>
            </Group>
            <div className="labels-tools">
              <Text mb="md">{t('labels.address', { origin: window.location.origin })}</Text>
              {LOCAL.includes(window.location.hostname) ? <Alert color="gray" mb="md">{t('labels.unreachable')}</Alert> : null}
            </div>
            {machines.length === 0 ? <EmptyState title={t('labels.empty')} text={t('labels.emptyText')} /> : <ul className="labels" aria-label={t('labels.title')}>{machines.map((machine) => <Label key={machine.id} machine={machine} plant={tree.plant.name} />)}</ul>}
          </>
        );
      }}</QueryView>
    </Page>
  );
}

function Label({ machine, plant }: { machine: { id: number; code: string; name: string; line: string }; plant: string }) {
  const { t } = useTranslation('floor');
  const address = `${window.location.origin}/log?machine=${machine.id}`;
  return (
    <li className="label">
      <Code text={address} name={t('labels.alt', { machine: machine.code })} />
      <div>
        <p className="label-code">{machine.code}</p>
        <p>{machine.name}</p>
        <p>{machine.line}, {plant}</p>
        <p>{t('labels.scan')}</p>
      </div>
    </li>
  );
}

/** One square a module, black on white whatever the theme: scanners want dark on light and a quiet zone of four modules (ISO/IEC 18004). */
function Code({ text, name }: { text: string; name: string }) {
  const { size, path } = useMemo(() => {
    const { modules } = create(text, { errorCorrectionLevel: 'M' });
    const dark = Array.from({ length: modules.size * modules.size }, (_, place) => place).filter((place) => modules.get(Math.floor(place / modules.size), place % modules.size));
    return { size: modules.size + 2 * QUIET_MODULES, path: dark.map((place) => `M${(place % modules.size) + QUIET_MODULES} ${Math.floor(place / modules.size) + QUIET_MODULES}h1v1h-1z`).join('') };
  }, [text]);
  return <svg role="img" aria-label={name} data-address={text} viewBox={`0 0 ${size} ${size}`} shapeRendering="crispEdges"><rect width={size} height={size} fill="#fff" /><path d={path} fill="#000" /></svg>;
}
