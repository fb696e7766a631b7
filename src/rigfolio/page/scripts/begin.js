/* All is there: show what needs scripts, fill in what was kept. */
const Begin = (() => {
  const attach = () => {
    for (const one of document.querySelectorAll("[data-scripted]")) one.hidden = false;
    Diagram.attach();
    TestSheet.attach();
    Find.run();
    Hand.renew();
  };
  attach();
  document.documentElement.dataset.ready = "1";
  return { attach };
})();
