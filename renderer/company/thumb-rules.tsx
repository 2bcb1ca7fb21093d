import { useState } from 'react';
import { EMISSION_DEVICES, PLANT_KINDS } from '../../core/contract/entities.ts';
import type { EmissionDevice, PlantKind, ThumbRule } from '../../core/contract/entities.ts';
import type { Failure } from '../../core/errors.ts';
import {
  Button,
  EmptyState,
  ErrorNote,
  NumberField,
  Section,
  SelectField,
  TextField,
  wordsOf,
} from '../parts/index.ts';
import { newId } from '../state/write.ts';
import { placedErrors } from './placed-errors.ts';
import { SaveBar } from './save-bar.tsx';
import { saveThumbRules } from './save-rules.ts';
import { useDraft } from './use-draft.ts';

const anyOf = (ids: readonly string[], any: string) => [
  { id: '', label: any },
  ...ids.map((id) => ({ id, label: wordsOf(id) })),
];

/** The company's rules of thumb, edited in place and saved as one table. */
export function ThumbRules({ rules }: { rules: ThumbRule[] }) {
  const { draft = [], replace, changed, reset } = useDraft('thumb-rules', rules);
  const [failure, setFailure] = useState<Failure | null>(null);
  const [busy, setBusy] = useState(false);
  const errors = placedErrors(failure);
  const change = (index: number, part: Partial<ThumbRule>) =>
    replace(draft.map((rule, place) => (place === index ? { ...rule, ...part } : rule)));
  const add = () =>
    replace([
      ...draft,
      {
        id: newId(),
        emissionDevice: null,
        plantKind: null,
        betweenHouses: null,
        minutesFrom: 10,
        minutesTo: 15,
        note: '',
      },
    ]);
  const save = async () => {
    setBusy(true);
    setFailure(await saveThumbRules(draft, 'Rules of thumb saved.', rules));
    setBusy(false);
  };
  const rest = () => errors.rest();
  const body = draft.map((rule, index) => {
    const at = (field: keyof ThumbRule) => errors.at(`thumbRules.${index}.${field}`);
    const which = `rule ${index + 1}`;
    return (
      <tr key={rule.id}>
        <td>
          <SelectField
            label={`Device, ${which}`}
            hideLabel
            value={rule.emissionDevice ?? ''}
            onChange={(id) => change(index, { emissionDevice: id === '' ? null : (id as EmissionDevice) })}
            options={anyOf(EMISSION_DEVICES, 'Any device')}
            error={at('emissionDevice')}
          />
        </td>
        <td>
          <SelectField
            label={`Plants, ${which}`}
            hideLabel
            value={rule.plantKind ?? ''}
            onChange={(id) => change(index, { plantKind: id === '' ? null : (id as PlantKind) })}
            options={anyOf(PLANT_KINDS, 'Any plants')}
            error={at('plantKind')}
          />
        </td>
        <td>
          <SelectField
            label={`Place, ${which}`}
            hideLabel
            value={rule.betweenHouses === null ? '' : rule.betweenHouses ? 'yes' : 'no'}
            onChange={(id) => change(index, { betweenHouses: id === '' ? null : id === 'yes' })}
            options={[
              { id: '', label: 'Anywhere' },
              { id: 'yes', label: 'Between houses' },
              { id: 'no', label: 'Not between houses' },
            ]}
          />
        </td>
        <td>
          <NumberField
            label={`Minutes from, ${which}`}
            hideLabel
            value={rule.minutesFrom}
            onChange={(value) => change(index, { minutesFrom: value ?? rule.minutesFrom })}
            min={0}
            max={720}
            digits={1}
            error={at('minutesFrom')}
          />
        </td>
        <td>
          <NumberField
            label={`Minutes to, ${which}`}
            hideLabel
            value={rule.minutesTo}
            onChange={(value) => change(index, { minutesTo: value ?? rule.minutesTo })}
            min={0}
            max={720}
            digits={1}
            error={at('minutesTo')}
          />
        </td>
        <td>
          <TextField
            label={`Note, ${which}`}
            hideLabel
            value={rule.note}
            onChange={(note) => change(index, { note })}
            error={at('note')}
          />
        </td>
        <td className="row-act">
          <Button
            look="quiet"
            aria-label={`Remove ${which}`}
            onPress={() => replace(draft.filter((_, place) => place !== index))}
          >
            Remove
          </Button>
        </td>
      </tr>
    );
  });
  return (
    <Section
      title="Rules of thumb"
      note="Usual run minutes by device, plants and place. Advice shows them beside what physics says."
      actions={
        <Button isDisabled={draft.length >= 200} onPress={add}>
          Add rule
        </Button>
      }
    >
      {draft.length === 0 ? (
        <EmptyState
          title="No rule of thumb"
          action={
            <Button look="primary" onPress={add}>
              Add rule
            </Button>
          }
        >
          Write down what your people set by habit, such as 12 to 15 minutes for pop-up spray. Where physics and habit
          differ, both are shown with the reason.
        </EmptyState>
      ) : (
        <div className="table-scroll">
          <table className="data thumb-table">
            <thead>
              <tr>
                <th scope="col">Device</th>
                <th scope="col">Plants</th>
                <th scope="col">Place</th>
                <th scope="col" className="figure">
                  From, min
                </th>
                <th scope="col" className="figure">
                  To, min
                </th>
                <th scope="col">Note</th>
                <th scope="col">
                  <span className="visually-hidden">Remove</span>
                </th>
              </tr>
            </thead>
            <tbody>{body}</tbody>
          </table>
        </div>
      )}
      {rest() === null ? null : <ErrorNote error={rest() ?? ''} />}
      <SaveBar
        changed={changed}
        busy={busy}
        onReset={() => {
          reset();
          setFailure(null);
        }}
        onSave={() => void save()}
        label="Save rules of thumb"
      />
    </Section>
  );
}
