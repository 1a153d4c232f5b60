// A page whose content comes from long work: once that is done, the page is loaded again and shows it.
import { follow } from "./work.js";

for (const block of document.querySelectorAll("[data-work]")) follow(block, () => location.reload());
