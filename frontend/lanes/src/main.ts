import { mount } from "svelte";
import "$shared/theme.css";
import "./lanes.css";
import App from "./App.svelte";

const place = document.getElementById("app");
if (place) {
  place.replaceChildren();
  mount(App, { target: place });
}
