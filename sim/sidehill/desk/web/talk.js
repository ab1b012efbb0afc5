// What is said to the desk's server, and what it says by itself.
import { show, lookAgain, notice } from "./parts.js";
import { showJob } from "./jobs.js";

export const me = Math.random().toString(36).slice(2);

// A POST; the answer, or null where it was refused: the reason then stands in the page.
export async function ask(path, what) {
  let answer;
  try {
    answer = await fetch(path, {
      method: "POST",
      headers: { "content-type": "application/json" },
      body: JSON.stringify({ ...what, by: me }),
    });
  } catch {
    notice("The desk does not answer: it has ended, or this computer was asleep. What you typed stays here; start `sidehill desk` again.");
    return null;
  }
  const found = await answer.json();
  if (!answer.ok) {
    notice(found.error);
    return null;
  }
  return found;
}

let lost = false;

// News as they come; after a break everything is looked at again.
export function listen() {
  const source = new EventSource("/events");
  source.onopen = () => {
    if (lost) {
      lost = false;
      notice("");
      lookAgain();
    }
  };
  source.onerror = () => {
    lost = true;
    notice("No word from the desk: it has ended, or this computer was asleep. Trying again; what you typed stays here.");
  };
  source.onmessage = (event) => {
    const news = JSON.parse(event.data);
    if (news.kind === "parts") show(news);
    else if (news.kind === "job") showJob(news);
    else if (news.kind === "notice") notice(news.words);
    else if (news.kind === "again" && news.by !== me) lookAgain();
  };
}
