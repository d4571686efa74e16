import { expect, it } from 'vitest';
import { readSpecification } from './specification.js';

it('reads limits as typed and takes empty ones for limits that do not exist', () => {
  expect(readSpecification({ lsl: '1,05', target: '', usl: '1.25' })).toEqual({ specification: { lsl: 1.05, target: null, usl: 1.25 } });
  expect(readSpecification({ lsl: '', target: '', usl: '' })).toEqual({ specification: { lsl: null, target: null, usl: null } });
});

it('says beside the field what is wrong', () => {
  expect(readSpecification({ lsl: 'low', target: '1', usl: '1..2' })).toEqual({ faults: [{ field: 'lsl', code: 'notNumber' }, { field: 'usl', code: 'notNumber' }] });
  expect(readSpecification({ lsl: '2', target: '', usl: '2' })).toEqual({ faults: [{ field: 'usl', code: 'reversed' }] });
  expect(readSpecification({ lsl: '1', target: '3', usl: '2' })).toEqual({ faults: [{ field: 'target', code: 'targetOutside' }] });
});
