// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// The acts by name, with the orders that belong to them.
import type { Schemas } from './client';

export interface Orders {
  'supplier/keep': Schemas['SupplierOrder'];
  'material/keep': Schemas['TextOrder'];
  'scale/keep': Schemas['ScaleOrder'];
  'lot/receive': Schemas['LotsOrder'];
  'lot/accept': Schemas['LotOrder'];
  'lot/hold': Schemas['LotOrder'];
  'lot/refuse': Schemas['LotOrder'];
  'lot/end': Schemas['LotOrder'];
  'recipe/keep': Schemas['RecipeDraftOrder'];
  'recipe/offer': Schemas['RecipeOrder'];
  'recipe/take-back': Schemas['RecipeOrder'];
  'recipe/retire': Schemas['RecipeOrder'];
  'recipe/approve': Schemas['ShownRecipeOrder'];
  'batch/plan': Schemas['PlanOrder'];
  'batch/approve': Schemas['ShownBatchOrder'];
  'batch/weigh': Schemas['WeighOrder'];
  'batch/correct': Schemas['CorrectWeighingOrder'];
  'batch/blend': Schemas['BatchOrder'];
  'batch/close': Schemas['YieldOrder'];
  'departure/raise': Schemas['DepartureOrder'];
  'departure/answer': Schemas['AnswerOrder'];
  'departure/close': Schemas['DepartureNumberOrder'];
  'sample/take': Schemas['SampleOrder'];
  'sample/portion': Schemas['PortionOrder'];
  'sample/set-portion-aside': Schemas['PortionNumberOrder'];
  'method/keep': Schemas['TextOrder'];
  'limits/keep': Schemas['TextOrder'];
  'results/enter': Schemas['ResultsOrder'];
  'results/import': Schemas['ImportOrder'];
  'results/keep-map': Schemas['KeepMapOrder'];
  'results/check': Schemas['CheckOrder'];
  'results/count': Schemas['RunOrder'];
  'results/set-aside': Schemas['LinesOrder'];
  'results/correct-check': Schemas['CorrectCheckOrder'];
  'results/correct': Schemas['CorrectResultOrder'];
  'release/decide': Schemas['DecisionOrder'];
  'certificate/issue': Schemas['CertificateOrder'];
  'certificate/withdraw': Schemas['CertificateNumberOrder'];
  'mixing-sheet/sign': Schemas['MixingOrder'];
  'person/add': Schemas['PersonOrder'];
  'person/stop': Schemas['PersonNumberOrder'];
  'person/password': Schemas['PasswordOrder'];
}
export type ActName = keyof Orders;
/** Acts whose order carries a secret or whole files are not kept in the browser; whoever sends them tries again. */
export const kNeverKept: ReadonlySet<ActName> = new Set<ActName>(['person/add', 'person/password', 'results/import', 'lot/receive']);
