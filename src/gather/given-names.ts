/**
 * First names met often enough in English notebooks that a name alone may as well be a friend as a title or a character: "Emma", "Kim",
 * "Heidi". Common practice; a name missing here is only held to be likelier a title than it is.
 */
export const GIVEN_NAMES: ReadonlySet<string> = new Set(
  `adam agnes alan alec alex alice amy andrew angela ann anna anne annie anthony arthur barbara beatrice ben benjamin beth
  betty bill bob brian bridget caroline catherine cathy charles charlie charlotte chris christine clara claire colin dan
  daniel david dave deborah diana dick donald dora dorothy edith edward eleanor eliza elizabeth ella ellen emily emma eric
  esther ethel eva eve evelina fanny flora florence frances frank fred gemma geoffrey george grace graham hal hannah harold
  harriet harry heather heidi helen henry hilda hope hugh ian ida irene isabel ivy jack jacob james jane janet jean jenny jerry
  jill jim jo joan joe john jonathan joseph joyce judith judy julia julie karen kate katherine keith ken kevin kim laura lily
  linda lisa louisa louise lucy luke lydia mabel maggie margaret maria marion mark martha martin mary matthew maud max may
  michael mike molly nancy nell nick nicola nora norah olive oliver oscar pam pamela patricia patrick paul peggy peter phil
  philip phoebe polly rachel ralph rebecca richard robert robin rob roger ron rosa rose ruth sally sam samuel sarah sheila
  shirley silas simon sophia sophie stephen steve sue susan sylvia ted teresa tess thomas tim tom tony ursula vera victor
  victoria violet walter wendy will william winifred`.split(/\s+/u),
);
