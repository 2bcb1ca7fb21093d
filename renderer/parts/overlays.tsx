import type { KeyboardEvent, ReactNode } from 'react';
import {
  Button as AriaButton,
  Dialog as AriaDialog,
  Heading,
  Menu as AriaMenu,
  MenuItem,
  MenuTrigger,
  Modal,
  ModalOverlay,
  Popover,
  Tab as AriaTab,
  TabList,
  TabPanel,
  Tabs as AriaTabs,
} from 'react-aria-components';
import { Button } from './button.tsx';
import type { ButtonProps } from './button.tsx';
import { CloseIcon } from './icons.tsx';
import { say } from '../state/say.ts';

export interface DialogProps {
  title: string;
  isOpen: boolean;
  onClose: () => void;
  children: ReactNode;
  /** Buttons, the main one last. */
  footer?: ReactNode;
  size?: 'small' | 'medium' | 'wide';
  /** Something was typed: Escape must not throw it away. It goes to the way out instead. */
  keepOpen?: boolean;
}

/** A window over the page for one decision or one form. */
export function Dialog({ title, isOpen, onClose, children, footer, size = 'medium', keepOpen = false }: DialogProps) {
  return (
    <ModalOverlay
      className="overlay"
      isOpen={isOpen}
      onOpenChange={(open) => {
        if (!open) onClose();
      }}
      isDismissable={false}
      isKeyboardDismissDisabled={keepOpen}
    >
      <Modal className={`dialog ${size}`}>
        <AriaDialog className="dialog-frame">
          <div className="dialog-body" onKeyDownCapture={keepOpen ? goToTheWayOut : undefined}>
            <header className="dialog-head">
              <Heading slot="title">{title}</Heading>
              <AriaButton className="button quiet icon-button" aria-label={say('parts.close')} onPress={onClose}>
                <CloseIcon />
              </AriaButton>
            </header>
            <div className="dialog-content">{children}</div>
            {footer === undefined ? null : <footer className="dialog-foot">{footer}</footer>}
          </div>
        </AriaDialog>
      </Modal>
    </ModalOverlay>
  );
}

/** A sheet at the side for long forms; the page behind stays in view. */
export function Sheet({ title, isOpen, onClose, children, footer, keepOpen = false }: Omit<DialogProps, 'size'>) {
  return (
    <ModalOverlay
      className="overlay side"
      isOpen={isOpen}
      onOpenChange={(open) => {
        if (!open) onClose();
      }}
      isDismissable={false}
      isKeyboardDismissDisabled={keepOpen}
    >
      <Modal className="sheet">
        <AriaDialog className="dialog-frame">
          <div className="dialog-body" onKeyDownCapture={keepOpen ? goToTheWayOut : undefined}>
            <header className="dialog-head">
              <Heading slot="title">{title}</Heading>
              <AriaButton className="button quiet icon-button" aria-label={say('parts.close')} onPress={onClose}>
                <CloseIcon />
              </AriaButton>
            </header>
            <div className="dialog-content">{children}</div>
            {footer === undefined ? null : <footer className="dialog-foot">{footer}</footer>}
          </div>
        </AriaDialog>
      </Modal>
    </ModalOverlay>
  );
}

function goToTheWayOut(event: KeyboardEvent<HTMLElement>) {
  // An open list inside the form takes its own Escape.
  if (event.key !== 'Escape' || event.currentTarget.querySelector('[aria-expanded="true"]') !== null) return;
  event.currentTarget.querySelector<HTMLElement>('[data-way-out]')?.focus();
}

export interface MenuEntry {
  id: string;
  label: string;
  onAction: () => void;
  danger?: boolean;
  isDisabled?: boolean;
}

/** A button that opens a list of things to do. */
export function Menu({
  label,
  items,
  look = 'plain',
  ariaLabel,
}: {
  label: ReactNode;
  items: readonly MenuEntry[];
  look?: ButtonProps['look'];
  ariaLabel?: string;
}) {
  return (
    <MenuTrigger>
      <Button look={look} {...(ariaLabel === undefined ? {} : { 'aria-label': ariaLabel })}>
        {label}
      </Button>
      <Popover className="popover" placement="bottom end">
        <AriaMenu className="options" onAction={(key) => items.find((item) => item.id === key)?.onAction()}>
          {items.map((item) => (
            <MenuItem
              key={item.id}
              id={item.id}
              className={`option${item.danger === true ? ' danger' : ''}`}
              isDisabled={item.isDisabled ?? false}
            >
              {item.label}
            </MenuItem>
          ))}
        </AriaMenu>
      </Popover>
    </MenuTrigger>
  );
}

export interface TabEntry {
  id: string;
  label: ReactNode;
  content: ReactNode;
}

/** A few views of one thing, one at a time. */
export function Tabs({
  label,
  tabs,
  value,
  onChange,
}: {
  label: string;
  tabs: readonly TabEntry[];
  value?: string;
  onChange?: (id: string) => void;
}) {
  return (
    <AriaTabs
      className="tabs"
      {...(value === undefined ? {} : { selectedKey: value })}
      onSelectionChange={(key) => onChange?.(String(key))}
    >
      <TabList aria-label={label} className="tab-list">
        {tabs.map((tab) => (
          <AriaTab key={tab.id} id={tab.id} className="tab">
            {tab.label}
          </AriaTab>
        ))}
      </TabList>
      {tabs.map((tab) => (
        <TabPanel key={tab.id} id={tab.id} className="tab-panel">
          {tab.content}
        </TabPanel>
      ))}
    </AriaTabs>
  );
}
