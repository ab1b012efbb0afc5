// The page of the desk: it sends what is typed, and shows what comes back.
import { listen } from "./talk.js";
import { watchFields } from "./fields.js";
import { watchSliders } from "./sliders.js";
import { watchButtons } from "./buttons.js";
import { watchStrips } from "./strips.js";
import { watchMeasures } from "./measures.js";
import { lookAgain } from "./parts.js";

watchFields();
watchSliders();
watchButtons();
watchStrips();
watchMeasures();
listen();
lookAgain();
