export * from './button.tsx';
export * from './fields.tsx';
export * from './overlays.tsx';
export * from './layout.tsx';
export * from './edit-grid.tsx';
export * from './marks.tsx';
export * from './icons.tsx';
export * from './format.ts';
