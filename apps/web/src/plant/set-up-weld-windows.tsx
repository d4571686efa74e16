import { Button, Group, Modal, Stack, Table, Text } from '@mantine/core';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import type { PlantTree } from '#contract/plant';
import { listWeldWindows, type WeldWindow } from '#contract/weld-windows';
import { CompareVersions } from '../shared/compare-versions.js';
import { useFormat } from '../shared/format.js';
import { call } from '../shared/http.js';
import { EmptyState, QueryView } from '../shared/states.js';
import { WeldWindowForm } from './weld-window-form.js';

const same = (a: WeldWindow, b: WeldWindow) => JSON.stringify(a.scope) === JSON.stringify(b.scope);

/** What window tests proved: the newest version of each place, with the way to all of them and to a new one. */
export function WeldWindowsSection({ tree, mayChange }: { tree: PlantTree; mayChange: boolean }) {
  const { t } = useTranslation('weldWindows');
  const query = useQuery({ queryKey: ['weld-windows'], queryFn: ({ signal }) => call(listWeldWindows, { signal }) });
  const [editing, setEditing] = useState<WeldWindow | 'new' | null>(null);
  const [history, setHistory] = useState<WeldWindow | null>(null);
  const settings = tree.characteristics.filter(({ kind, formula, stepKind }) => kind === 'variable' && formula === null && stepKind === 'body-maker');
  return (
    <Stack gap="md">
      <Text c="dimmed" maw={900}>{t('text')}</Text>
      {settings.length === 0 ? <Text>{t('noCharacteristic')}</Text> : mayChange ? <Group><Button size="md" onClick={() => setEditing('new')}>{t('add')}</Button></Group> : null}
      <QueryView query={query} what={t('loading')} isEmpty={({ windows }) => windows.length === 0} empty={<EmptyState title={t('empty')} text={t('emptyText')} />}>{({ windows }) => (
        <>
          <WindowTable windows={windows.filter((entry) => !windows.some((other) => same(entry, other) && other.version > entry.version))} onEdit={mayChange ? setEditing : undefined} onHistory={setHistory} />
          {history ? <History versions={windows.filter((entry) => same(entry, history))} onClose={() => setHistory(null)} /> : null}
        </>
      )}</QueryView>
      {editing ? <WeldWindowForm tree={tree} settings={settings} before={editing === 'new' ? null : editing} onClose={() => setEditing(null)} /> : null}
    </Stack>
  );
}

function useNames() {
  const { t } = useTranslation('weldWindows');
  const where = ({ machine, line }: WeldWindow) => (machine ? t('machine', { machine: machine.code }) : t('line', { line: line.code }));
  const product = (entry: WeldWindow) => entry.product?.code ?? t('anyProduct');
  return { where, product, all: (entry: WeldWindow) => t('of', { setting: entry.characteristic.name, where: where(entry), product: product(entry) }) };
}

function WindowTable({ windows, onEdit, onHistory }: { windows: readonly WeldWindow[]; onEdit: ((entry: WeldWindow) => void) | undefined; onHistory: (entry: WeldWindow) => void }) {
  const { t } = useTranslation('weldWindows');
  const format = useFormat();
  const names = useNames();
  return (
    <Table.ScrollContainer minWidth={860}>
      <Table aria-label={t('section')} verticalSpacing="xs">
        <Table.Thead><Table.Tr>{(['where', 'product', 'setting', 'window', 'tested', 'from', 'version', 'who', 'change'] as const).map((head) => <Table.Th key={head} scope="col">{t(`columns.${head}`)}</Table.Th>)}</Table.Tr></Table.Thead>
        <Table.Tbody>{windows.map((entry) => {
          const { window, characteristic: { name, decimals, unit } } = entry;
          return (
            <Table.Tr key={entry.id}>
              <Table.Th scope="row">{names.where(entry)}</Table.Th><Table.Td>{names.product(entry)}</Table.Td><Table.Td>{name}</Table.Td>
              <Table.Td>{window ? t('range', { lower: format.number(window.lower, decimals), upper: format.withUnit(window.upper, decimals, unit) }) : t('takenBack')}</Table.Td>
              <Table.Td>{window ? <>{t('testedBy', { by: window.testedBy, at: format.dateTime(window.testedAt) })}<Text size="xs" c="dimmed">{window.evidence}</Text></> : '–'}</Table.Td>
              <Table.Td>{format.dateTime(entry.effectiveFrom)}</Table.Td><Table.Td>{entry.version}</Table.Td><Table.Td>{entry.author}</Table.Td>
              <Table.Td><Group gap="xs">{onEdit ? <Button variant="default" aria-label={t('newOf', { name: names.all(entry) })} onClick={() => onEdit(entry)}>{t('new')}</Button> : null}<Button variant="subtle" aria-label={t('versionsOf', { name: names.all(entry) })} onClick={() => onHistory(entry)}>{t('versions')}</Button></Group></Table.Td>
            </Table.Tr>
          );
        })}</Table.Tbody>
      </Table>
    </Table.ScrollContainer>
  );
}

function History({ versions, onClose }: { versions: readonly WeldWindow[]; onClose: () => void }) {
  const { t } = useTranslation('weldWindows');
  const format = useFormat();
  const names = useNames();
  const [first] = versions;
  if (!first) return null;
  const { decimals, unit } = first.characteristic;
  return (
    <Modal opened onClose={onClose} size="xl" title={t('versionsOf', { name: names.all(first) })} closeButtonProps={{ 'aria-label': t('form.cancel') }}>
      <CompareVersions title={t('compare')} versions={[...versions].sort((a, b) => b.version - a.version).map(({ version, window, author, at, reason, effectiveFrom }) => ({
        key: String(version), label: t('version', { version }), author, at, reason, fields: {
          retired: window === null, lower: window ? format.withUnit(window.lower, decimals, unit) : null, upper: window ? format.withUnit(window.upper, decimals, unit) : null, nearEdge: window?.nearEdge ?? null, material: window?.material ?? null,
          speed: window?.speed ?? null, wire: window?.wire ?? null, testedAt: window ? format.dateTime(window.testedAt) : null, testedBy: window?.testedBy ?? null, evidence: window?.evidence ?? null, effectiveFrom: format.dateTime(effectiveFrom),
        },
      }))} />
    </Modal>
  );
}
