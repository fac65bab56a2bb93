/** Before a shared tablet that is locked: nothing of what lies behind is seen or reached, a question that stood open there included. */
import type { ReactNode } from 'react';
import { Dialog, Heading, Modal, ModalOverlay } from 'react-aria-components';

export function LockScreen(props: { readonly title: string; readonly words: string; readonly children: ReactNode }) {
  return (
    <ModalOverlay className="lock-screen" isOpen isKeyboardDismissDisabled>
      <Modal className="narrow-page">
        <Dialog className="card stack">
          <Heading slot="title" level={1}>
            {props.title}
          </Heading>
          <p className="soft">{props.words}</p>
          {props.children}
        </Dialog>
      </Modal>
    </ModalOverlay>
  );
}
