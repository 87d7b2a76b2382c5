import { Component, type ReactNode } from 'react';

interface ViewBoundaryProps {
  readonly children: ReactNode;
  /** Shown instead when the renderer can't be made or breaks. */
  readonly instead: ReactNode;
}

/** Keeps a failure of the 3D view inside the 3D view. */
export class ViewBoundary extends Component<ViewBoundaryProps, { readonly failed: boolean }> {
  override state = { failed: false };

  static getDerivedStateFromError(): { failed: boolean } {
    return { failed: true };
  }

  override render(): ReactNode {
    return this.state.failed ? this.props.instead : this.props.children;
  }
}
