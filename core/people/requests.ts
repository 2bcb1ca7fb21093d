import type { Handler } from '../context.ts';
import { readPeople, savePeople } from './queries.ts';

const peopleList: Handler<'people.list'> = ({ db }) => readPeople(db);

const peopleSave: Handler<'people.save'> = async ({ db }, input) => ({ saved: await savePeople(db, input) });

export const peopleHandlers = {
  'people.list': peopleList,
  'people.save': peopleSave,
};
