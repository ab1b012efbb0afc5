// What is being made: how far it is, a button to stop it, a link once it is there.
export function showJob(news) {
  const list = document.getElementById("jobs");
  let line = list.querySelector(`[data-job="${news.job}"]`);
  if (!line) {
    line = document.createElement("li");
    line.dataset.job = news.job;
    line.append(document.createElement("span"));
    list.append(line);
  }
  const isAtWork = news.state === "at work";
  line.firstChild.textContent = isAtWork ? `${news.job}: ${news.words} `
    : news.state === "done" ? `${news.job}: made: ` : `${news.job}: ${news.words} `;
  const old = line.querySelector("button, a");
  if (isAtWork && old?.tagName === "BUTTON") return;
  old?.remove();
  if (isAtWork) line.append(stopButton(news.job));
  else if (news.state === "done") line.append(link(news.words));
}

function stopButton(kind) {
  const button = document.createElement("button");
  button.type = "button";
  button.textContent = `Stop the ${kind}`;
  button.dataset.stop = kind;
  return button;
}

function link(name) {
  const made = document.createElement("a");
  made.href = `/files/${encodeURIComponent(name)}`;
  made.target = "_blank";
  made.rel = "noopener";
  made.textContent = `open ${name}`;
  return made;
}
