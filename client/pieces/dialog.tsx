/** A question in front of the screen. What lies behind keeps everything that was typed. */
import type { ReactNode } from 'react';
import { Dialog as AriaDialog, Heading, Modal, ModalOverlay } from 'react-aria-components';

export function Dialog(props: {
  readonly title: string;
  readonly isOpen: boolean;
  /** Undefined: the question must be answered. */
  readonly onClose?: (() => void) | undefined;
  /** Something is typed here: a touch beside it does not put it away. */
  readonly isForm?: boolean;
  readonly isWide?: boolean;
  readonly children: ReactNode;
}) {
  return (
    <ModalOverlay
      className="veil"
      isOpen={props.isOpen}
      isDismissable={props.onClose !== undefined && props.isForm !== true}
      isKeyboardDismissDisabled={props.onClose === undefined}
      onOpenChange={(isOpen) => (isOpen ? undefined : props.onClose?.())}
    >
      <Modal className={`dialog ${props.isWide === true ? 'wide' : ''}`}>
        <AriaDialog>
          <div className="stack">
            <Heading slot="title" level={2}>
              {props.title}
            </Heading>
            {props.children}
          </div>
        </AriaDialog>
      </Modal>
    </ModalOverlay>
  );
}
