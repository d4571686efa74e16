import { Button, Group, Modal, MultiSelect, Stack } from '@mantine/core';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import type { PlantTree } from '#contract/plant';
import { usePlant } from '../shared/plant.queries.js';
import { ProblemList } from '../shared/problem-list.js';
import { usePerson } from '../shared/session.js';
import { QueryView } from '../shared/states.js';
import { useAssignments, useChooseMine } from './due.queries.js';

type Places = { lineIds: number[]; machineIds: number[] };

/** Which lines and machines are mine: their due checks come first. */
export function MyMachines({ onClose }: { onClose: () => void }) {
  const { t } = useTranslation('floor');
  const [plant, assigned] = [usePlant(), useAssignments()];
  const person = usePerson();
  return (
    <Modal opened onClose={onClose} title={t('due.mineTitle')} closeButtonProps={{ 'aria-label': t('due.cancel') }}>
      <QueryView query={plant} what={t('due.loading')}>{(tree) => (
        <QueryView query={assigned} what={t('due.loading')}>{({ people }) => <Choice tree={tree} start={people.find(({ userId }) => userId === person.id) ?? { lineIds: [], machineIds: [] }} onClose={onClose} />}</QueryView>
      )}</QueryView>
    </Modal>
  );
}

function Choice({ tree, start, onClose }: { tree: PlantTree; start: Places; onClose: () => void }) {
  const { t } = useTranslation('floor');
  const [lines, setLines] = useState(start.lineIds.map(String));
  const [machines, setMachines] = useState(start.machineIds.map(String));
  const choose = useChooseMine();
  const inUse = tree.lines.flatMap((line) => line.steps.flatMap((step) => step.machines)).filter(({ retired }) => !retired);
  return (
    <form onSubmit={(event) => { event.preventDefault(); choose.mutate({ lineIds: lines.map(Number), machineIds: machines.map(Number) }, { onSuccess: onClose }); }}>
      <Stack>
        <MultiSelect size="md" label={t('due.lines')} data={tree.lines.map(({ id, code, name }) => ({ value: String(id), label: `${code} ${name}` }))} value={lines} onChange={setLines} searchable />
        <MultiSelect size="md" label={t('due.machines')} data={inUse.map(({ id, code, name }) => ({ value: String(id), label: `${code} ${name}` }))} value={machines} onChange={setMachines} searchable />
        {choose.isError ? <ProblemList error={choose.error} /> : null}
        <Group><Button size="md" type="submit" loading={choose.isPending}>{t('due.save')}</Button><Button size="md" variant="default" onClick={onClose}>{t('due.cancel')}</Button></Group>
      </Stack>
    </form>
  );
}
