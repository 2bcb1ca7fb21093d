import type { ReactNode } from 'react';

// Our own small drawings, 16 × 16, in the ink of the words beside them.

function Icon({ children, size = 16 }: { children: ReactNode; size?: number }) {
  return (
    <svg className="icon" viewBox="0 0 16 16" width={size} height={size} aria-hidden="true" focusable="false">
      {children}
    </svg>
  );
}
export const ChevronIcon = () => (
  <Icon>
    <path d="M4 6l4 4 4-4" />
  </Icon>
);
export const CloseIcon = () => (
  <Icon>
    <path d="M4 4l8 8M12 4l-8 8" />
  </Icon>
);
export const SearchIcon = () => (
  <Icon>
    <circle cx="7" cy="7" r="4.5" />
    <path d="M10.5 10.5L14 14" />
  </Icon>
);
export const BackIcon = () => (
  <Icon>
    <path d="M10 3L5 8l5 5" />
  </Icon>
);
export const WarningIcon = () => (
  <Icon>
    <path d="M8 2l6.5 11.5h-13zM8 6.5v3.5M8 11.7v.3" />
  </Icon>
);
export const BatteryIcon = () => (
  <Icon>
    <rect x="1.5" y="5" width="11" height="6.5" rx="1" />
    <path d="M14.5 7v2.5M4 7v2.5M6.5 7v2.5" />
  </Icon>
);
export const SensorIcon = () => (
  <Icon>
    <path d="M3 11a5 5 0 0 1 10 0zM8 11v3M6 3.5l.7 1.2M10 3.5l-.7 1.2M8 2.5v1.6" />
  </Icon>
);
export const BackflowIcon = () => (
  <Icon>
    <path d="M1 8h3M12 8h3M4 4.5v7l4-3.5zM12 4.5v7L8 8z" />
  </Icon>
);
export const StartUpIcon = () => (
  <Icon>
    <path d="M8 14V5M8 5L4.5 8.5M8 5l3.5 3.5M2.5 2h11" />
  </Icon>
);
export const FreezeIcon = () => (
  <Icon>
    <path d="M8 1.5v13M2.4 4.8l11.2 6.4M13.6 4.8L2.4 11.2M6.2 2.8L8 4.4l1.8-1.6M6.2 13.2L8 11.6l1.8 1.6" />
  </Icon>
);
export const ClockIcon = () => (
  <Icon>
    <circle cx="8" cy="8" r="6" />
    <path d="M8 4.5V8l2.5 2" />
  </Icon>
);
export const WrenchIcon = () => (
  <Icon>
    <path d="M10.5 2a3.5 3.5 0 0 0-3.2 5L2 12.3 3.7 14 9 8.7a3.5 3.5 0 0 0 4.7-4.3L11.5 6.5 9.5 4.5l2.2-2.2A3.5 3.5 0 0 0 10.5 2z" />
  </Icon>
);
export const DialIcon = () => (
  <Icon>
    <circle cx="8" cy="8" r="6" />
    <path d="M8 8l3-3M3.8 11.5h8.4" />
  </Icon>
);
export const WalkIcon = () => (
  <Icon>
    <circle cx="8.5" cy="2.8" r="1.3" />
    <path d="M5 14.5L7.5 10 7 6.5 10 8l2 .5M8.5 10l2 4.5M7 6.5L4.5 8v2.5" />
  </Icon>
);
export const DropIcon = () => (
  <Icon>
    <path d="M8 1.8C5.5 5.3 4 7.3 4 9.7a4 4 0 0 0 8 0C12 7.3 10.5 5.3 8 1.8z" />
  </Icon>
);
export const RingIcon = () => (
  <Icon>
    <circle cx="8" cy="8" r="5" />
  </Icon>
);
export const DashIcon = () => (
  <Icon>
    <path d="M3.5 8h9" />
  </Icon>
);
export const WarnIcon = () => (
  <Icon>
    <path d="M8 2L1.5 13.5h13zM8 6.5v3.2M8 11.4v.6" />
  </Icon>
);
export const TickIcon = () => (
  <Icon>
    <path d="M3 8.5l3.2 3.2L13 4.8" />
  </Icon>
);
export const FolderIcon = () => (
  <Icon>
    <path d="M1.5 4.5v8h13v-7H8L6.5 3.5h-5z" />
  </Icon>
);
export const FileIcon = () => (
  <Icon>
    <path d="M3.5 1.5h6l3 3v10h-9zM9.5 1.5v3h3" />
  </Icon>
);
export const UpIcon = () => (
  <Icon>
    <path d="M8 13.5v-11M3.5 7L8 2.5 12.5 7" />
  </Icon>
);
