import { useState } from 'react';
import { EMISSION_DEVICES, PLANT_KINDS } from '../../core/agronomy/contract.ts';
import type { EmissionDevice, PlantKind } from '../../core/agronomy/contract.ts';
import type { ThumbRule } from '../../core/settings/contract.ts';
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
import { say } from '../state/say.ts';

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
    setFailure(await saveThumbRules(draft, say('company.thumbSaved'), rules));
    setBusy(false);
  };
  const rest = () => errors.rest();
  const body = draft.map((rule, index) => {
    const at = (field: keyof ThumbRule) => errors.at(`thumbRules.${index}.${field}`);
    const number = index + 1;
    return (
      <tr key={rule.id}>
        <td>
          <SelectField
            label={say('company.ofRule', { what: say('company.device'), number })}
            hideLabel
            value={rule.emissionDevice ?? ''}
            onChange={(id) => change(index, { emissionDevice: id === '' ? null : (id as EmissionDevice) })}
            options={anyOf(EMISSION_DEVICES, say('company.anyDevice'))}
            error={at('emissionDevice')}
          />
        </td>
        <td>
          <SelectField
            label={say('company.ofRule', { what: say('company.plants'), number })}
            hideLabel
            value={rule.plantKind ?? ''}
            onChange={(id) => change(index, { plantKind: id === '' ? null : (id as PlantKind) })}
            options={anyOf(PLANT_KINDS, say('company.anyPlants'))}
            error={at('plantKind')}
          />
        </td>
        <td>
          <SelectField
            label={say('company.ofRule', { what: say('company.place'), number })}
            hideLabel
            value={rule.betweenHouses === null ? '' : rule.betweenHouses ? 'yes' : 'no'}
            onChange={(id) => change(index, { betweenHouses: id === '' ? null : id === 'yes' })}
            options={[
              { id: '', label: say('company.anywhere') },
              { id: 'yes', label: say('company.betweenHouses') },
              { id: 'no', label: say('company.notBetweenHouses') },
            ]}
          />
        </td>
        <td>
          <NumberField
            label={say('company.ofRule', { what: say('company.minutesFrom'), number })}
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
            label={say('company.ofRule', { what: say('company.minutesTo'), number })}
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
            label={say('company.ofRule', { what: say('company.note'), number })}
            hideLabel
            value={rule.note}
            onChange={(note) => change(index, { note })}
            error={at('note')}
          />
        </td>
        <td className="row-act">
          <Button
            look="quiet"
            aria-label={say('company.removeRule', { number })}
            onPress={() => replace(draft.filter((_, place) => place !== index))}
          >
            {say('company.remove')}
          </Button>
        </td>
      </tr>
    );
  });
  return (
    <Section
      title={say('company.thumb')}
      note={say('company.thumbWhy')}
      actions={
        <Button isDisabled={draft.length >= 200} onPress={add}>
          {say('company.addRule')}
        </Button>
      }
    >
      {draft.length === 0 ? (
        <EmptyState
          title={say('company.noThumb')}
          action={
            <Button look="primary" onPress={add}>
              {say('company.addRule')}
            </Button>
          }
        >
          {say('company.noThumbWhy')}
        </EmptyState>
      ) : (
        <div className="table-scroll">
          <table className="data thumb-table">
            <thead>
              <tr>
                <th scope="col">{say('company.device')}</th>
                <th scope="col">{say('company.plants')}</th>
                <th scope="col">{say('company.place')}</th>
                <th scope="col" className="figure">
                  {say('company.fromMin')}
                </th>
                <th scope="col" className="figure">
                  {say('company.toMin')}
                </th>
                <th scope="col">{say('company.note')}</th>
                <th scope="col">
                  <span className="visually-hidden">{say('company.remove')}</span>
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
        label={say('company.saveThumb')}
      />
    </Section>
  );
}
