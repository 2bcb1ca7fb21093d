import type { ReactNode } from 'react';
import { Button as AriaButton } from 'react-aria-components';
import type { ButtonProps as AriaButtonProps } from 'react-aria-components';

export interface ButtonProps extends Omit<AriaButtonProps, 'className' | 'children'> {
  children: ReactNode;
  look?: 'primary' | 'plain' | 'danger' | 'quiet';
  /** 48 px high, for a wet glove. */
  big?: boolean;
  className?: string;
}

/** A button; its words start with a verb. */
export function Button({ look = 'plain', big = false, className = '', ...props }: ButtonProps) {
  return <AriaButton {...props} className={`button ${look}${big ? ' big' : ''} ${className}`} />;
}

/** A link that looks like a button: it goes somewhere and changes nothing. */
export function ButtonLink({
  href,
  children,
  look = 'plain',
  big = false,
}: {
  href: string;
  children: ReactNode;
  look?: ButtonProps['look'];
  big?: boolean;
}) {
  return (
    <a href={href} className={`button ${look}${big ? ' big' : ''}`}>
      {children}
    </a>
  );
}

/** A key on the keyboard. */
export function Kbd({ children }: { children: ReactNode }) {
  return <kbd className="kbd">{children}</kbd>;
}
