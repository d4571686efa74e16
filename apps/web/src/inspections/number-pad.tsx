import { UnstyledButton } from '@mantine/core';
import { useTranslation } from 'react-i18next';

const ROWS = [['1', '2', '3', '4', '5', '.'], ['6', '7', '8', '9', '0', '-']] as const;

/** The cell that is being typed in, or null where none has the focus. */
export const typedIn = (): HTMLInputElement | null => (document.activeElement instanceof HTMLInputElement && document.activeElement.matches('.cell-input') ? document.activeElement : null);

/** Types into the cell as a keyboard would, so that pad, keyboard and gauge take one way through the grid. */
function typeInto(input: HTMLInputElement, text: string): void {
  const [start, end] = [input.selectionStart ?? input.value.length, input.selectionEnd ?? input.value.length];
  const setValue = Object.getOwnPropertyDescriptor(HTMLInputElement.prototype, 'value')?.set;
  const from = text === '' && start === end ? Math.max(0, start - 1) : start;
  setValue?.call(input, input.value.slice(0, from) + text + input.value.slice(end));
  input.setSelectionRange(from + text.length, from + text.length);
  input.dispatchEvent(new InputEvent('input', { bubbles: true, inputType: text === '' ? 'deleteContentBackward' : 'insertText' }));
}
const pressEnter = (input: HTMLInputElement): void => { input.dispatchEvent(new KeyboardEvent('keydown', { key: 'Enter', bubbles: true, cancelable: true })); };

/** A whole value, not a digit: it takes the place of what is there and goes on to the next cell, unless the number itself has moved on. */
export function typeWhole(input: HTMLInputElement, text: string): void {
  input.focus();
  input.select();
  typeInto(input, text);
  if (document.activeElement === input) pressEnter(input);
}

/** Large keys on the screen, for gloves and for tablets whose own keyboard hides the grid. The cell keeps the focus. */
export function NumberPad() {
  const { t } = useTranslation('entry');
  const press = (text: string) => { const input = typedIn(); if (input) typeInto(input, text); };
  const key = (label: string, name: string, onPress: () => void, wide = false) => (
    <UnstyledButton key={label} className={wide ? 'pad-key pad-wide' : 'pad-key'} aria-label={name} tabIndex={-1} onPointerDown={(event) => event.preventDefault()} onClick={onPress}>{label}</UnstyledButton>
  );
  return (
    <fieldset className="pad" aria-label={t('pad.title')}>
      {ROWS.map((row, index) => (
        <div className="pad-row" key={row[0]}>
          {row.map((digit) => key(digit === '-' ? '−' : digit, digit === '.' ? t('pad.point') : digit === '-' ? t('pad.minus') : digit, () => press(digit)))}
          {index === 0 ? key('⌫', t('pad.back'), () => press(''), true) : key('⏎', t('pad.next'), () => { const input = typedIn(); if (input) pressEnter(input); }, true)}
        </div>
      ))}
    </fieldset>
  );
}
