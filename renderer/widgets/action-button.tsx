import type { ReactNode } from 'react';
import { Button, type ButtonProps } from 'react-aria-components';

interface ActionButtonProps extends Omit<ButtonProps, 'className' | 'children' | 'style'> {
  readonly children: ReactNode;
  readonly look?: 'main' | 'plain' | 'quiet' | 'small';
}

/** A button at least 44 px high. `small` keeps the height and takes less width. */
export function ActionButton({ look = 'plain', children, ...rest }: ActionButtonProps) {
  return (
    <Button {...rest} className={`button ${look === 'plain' ? '' : look}`}>
      {children}
    </Button>
  );
}
