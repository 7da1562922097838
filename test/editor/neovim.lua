-- Drives Neovim's own language client: opens a chart, waits for its problems, asks what sounds, and moves the chart.
local program, chart, out = vim.env.PLAGAL_PROGRAM, vim.env.PLAGAL_CHART, vim.env.PLAGAL_OUT
local result = {}

local function finish()
  local file = io.open(out, "w")
  file:write(vim.json and vim.json.encode(result) or vim.fn.json_encode(result))
  file:close()
  vim.cmd("qall!")
end

local function wait(what, holds)
  if not vim.wait(30000, holds, 20) then
    result.failed = what
    finish()
  end
end

local ok, problem = pcall(function()
  vim.cmd("edit " .. vim.fn.fnameescape(chart))
  vim.bo.filetype = "plagal"
  local client = vim.lsp.start_client({
    name = "plagal",
    cmd = { vim.env.PLAGAL_NODE, program, "lsp", "--stdio" },
    root_dir = vim.fn.fnamemodify(chart, ":h"),
  })
  vim.lsp.buf_attach_client(0, client)

  wait("no diagnostics came", function()
    return #vim.diagnostic.get(0) > 0
  end)
  for _, it in ipairs(vim.diagnostic.get(0)) do
    result.diagnostics = result.diagnostics or {}
    table.insert(result.diagnostics, { line = it.lnum, column = it.col, code = it.code, message = it.message })
  end

  local function ask(method, params)
    local answers = vim.lsp.buf_request_sync(0, method, params, 30000)
    return answers and answers[client] and answers[client].result
  end

  vim.api.nvim_win_set_cursor(0, { 4, 10 })
  local hover = ask("textDocument/hover", vim.lsp.util.make_position_params())
  result.hover = hover and hover.contents.value

  vim.api.nvim_win_set_cursor(0, { 2, 5 })
  local params = vim.lsp.util.make_range_params()
  params.context = { diagnostics = {}, only = { "refactor.move" } }
  local action
  for _, it in ipairs(ask("textDocument/codeAction", params) or {}) do
    result.actions = result.actions or {}
    table.insert(result.actions, it.title)
    if it.title:find(vim.env.PLAGAL_KEY, 1, true) then action = action or it end
  end
  if action and not action.edit then action = ask("codeAction/resolve", action) end
  if action then vim.lsp.util.apply_workspace_edit(action.edit, "utf-16") end
  result.moved = table.concat(vim.api.nvim_buf_get_lines(0, 0, -1, false), "\n")
  vim.cmd("undo")
  result.undone = table.concat(vim.api.nvim_buf_get_lines(0, 0, -1, false), "\n")
end)
if not ok then result.failed = tostring(problem) end
finish()
