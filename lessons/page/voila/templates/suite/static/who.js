// What the header shows of the person at this browser. Pure: from what the server says to words.

/** Return the sentence that names whoever is here; empty for nobody. */
export const calledHere = (said) => {
  if (!said.name) return said.role === "guest" ? "You have not joined the class." : "";
  if (said.class) return `${said.name} · ${said.class}`;
  return `${said.name} · ${said.role}`;
};

/** Return what the class is told now, most urgent first; empty for nothing. */
export const toldNow = (said) => {
  if (said.paused) return `The trainer has paused the class. ${said.word ?? ""}`.trim();
  return said.word ?? "";
};

/** Return how the sitting stands against its clock, in words; empty without one. */
export const minutesNow = (said) => {
  const time = said.minutes;
  if (!time) return "";
  if (!time.kept) return `${Math.floor(time.used_s / 60)} of ${time.allowed} min`;
  if (time.left_s <= 0) return "The time is up";
  return time.left_s < 60 ? "less than a minute left" : `${Math.floor(time.left_s / 60)} min left`;
};

/** Return what the first page says of a page of the class. */
export const pageState = ({ state, right, of }) => {
  if (state === "opened" && of) return `${right} of ${of} questions right`;
  return state;
};

/** Return which ways the header offers: to join, to sign in, to raise a hand, to hand back. */
export const offered = (said) => ({
  join: said.role === "guest",
  signIn: said.role === "guest" || said.role === "anyone" || (said.role === "apprentice" && !said.name),
  hand: Boolean(said.class),
  back: Boolean(said.name),
});
