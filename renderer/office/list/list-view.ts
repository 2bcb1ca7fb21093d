import { create } from 'zustand';

export interface ListView {
  search: string;
  routeId: string;
  season: string;
  due: string;
  sort: string;
  cursor: number;
  top: number;
}

/** What the home list is asked for and where it stands, so that coming back finds it as it was left. */
export const useListView = create<ListView>(() => ({
  search: '',
  routeId: '',
  season: '',
  due: '',
  sort: 'name',
  cursor: 0,
  top: 0,
}));
